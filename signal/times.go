package signal

import (
	"math"
	"slices"
	"time"
)

// finalTimes turns the bins the right way round and smooths stamps that
// repeat by rounding.
func (r *reducer) finalTimes() {
	if r.bounded && math.Abs(r.lastT-r.firstOut) < r.quantum/2 { // the clock never moved on
		r.repeated, r.bounded, r.typical, r.quantum = false, false, 0, 0
	}
	if r.sign < 0 {
		slices.Reverse(r.time)
		slices.Reverse(r.count)
		for _, c := range r.chans {
			slices.Reverse(c.mean)
			if c.min != nil {
				slices.Reverse(c.min)
				slices.Reverse(c.max)
			}
		}
		slices.Reverse(r.gaps)
		for i, g := range r.gaps {
			r.gaps[i] = Span{-g.To, -g.From}
		}
		for i := range r.time {
			r.time[i] = -r.time[i]
		}
		r.firstOut, r.lastT = -r.lastT, -r.firstOut
		if r.clocked() && len(r.time) > 0 {
			t0 := r.firstOut
			for i := range r.time {
				r.time[i] -= t0
			}
			for i := range r.gaps {
				r.gaps[i].From -= t0
				r.gaps[i].To -= t0
			}
			// base was the first row of the file, the last in time.
			r.base += t0 / r.p.time.scale
			r.firstOut, r.lastT = 0, r.lastT-t0
		}
	}
	if r.repeated {
		r.straighten()
	}
	for i := 1; i < len(r.time); i++ {
		if r.time[i] <= r.time[i-1] {
			r.time[i] = math.Nextafter(r.time[i-1], math.Inf(1))
		}
	}
}

func (r *reducer) clocked() bool {
	m := r.p.time.mode
	return r.p.time.epoch || m == timeClock || m == timeDate
}

// straighten replaces rounded times by a straight line through them when no
// bin is further from it than the rounding explains.
func (r *reducer) straighten() {
	n := len(r.time)
	if n < 3 || len(r.gaps) > 0 {
		return
	}
	pos := make([]float64, n) // mean row number of each bin
	row := 0.0
	for i := range pos {
		c := 1.0
		if r.count != nil {
			c = float64(r.count[i])
		}
		pos[i] = row + (c-1)/2
		row += c
	}
	mx, my, slope := r.lineThrough(pos)
	if !(slope > 0) {
		return
	}
	worst := 0.0
	for i, x := range pos {
		worst = max(worst, math.Abs(my+slope*(x-mx)-r.time[i]))
	}
	if worst > 1.5*r.quantum {
		return
	}
	for i, x := range pos {
		r.time[i] = my + slope*(x-mx)
	}
	r.steps, r.stepSum, r.odd = 1, slope, 0
	r.typical = slope
}

// lineThrough is the straight line through the times of bins whose mean row numbers are pos: a
// row number, its time in s, and the step of a row in s; without one the step is not above 0.
// Rows that were not spread over their stamp have times that climb in stairs. Their clock
// is right where it moves on.
func (r *reducer) lineThrough(pos []float64) (row, at, step float64) {
	if a, b := r.ticks[0], r.ticks[1]; r.bounded {
		if a.row == b.row { // moved on once: the longer part tells how many rows share a stamp
			total := int64(pos[len(pos)-1])
			return float64(a.row), a.at, r.quantum / float64(max(a.row, total-a.row))
		}
		return float64(a.row), a.at, (b.at - a.at) / float64(b.row-a.row)
	}
	n := len(pos)
	mx, my := pos[n/2], r.time[n/2]
	var sxx, sxy, sx, sy float64
	for i, x := range pos {
		sx += x - mx
		sy += r.time[i] - my
	}
	mx += sx / float64(n)
	my += sy / float64(n)
	for i, x := range pos {
		sxx += (x - mx) * (x - mx)
		sxy += (x - mx) * (r.time[i] - my)
	}
	if sxx == 0 {
		return mx, my, 0
	}
	return mx, my, sxy / sxx
}

// rowStep is the typical interval between rows, s.
func (r *reducer) rowStep() float64 {
	if r.irregular || r.steps == 0 {
		return r.typical
	}
	if m := r.stepSum / float64(r.steps); r.odd == 0 && m > 0 {
		// The average over all rows beats the last printed digit, but must
		// not differ from the printed step by mere float noise.
		if math.Abs(m-r.typical) <= 1e-7*r.typical {
			return r.typical
		}
		return m
	}
	return r.typical
}

func (r *reducer) uniform() bool {
	switch r.p.time.mode {
	case timeCount:
		return true
	case timeNone:
		return false
	}
	return !r.irregular && r.odd == 0 && r.rows > 1
}

// startTime is the wall clock at time 0 if the file told it.
func (r *reducer) startTime() time.Time {
	t, f := &r.p.time, r.p.facts
	switch {
	case t.epoch && t.scale == 86400:
		return epochTime((r.base - 25569) * 86400) // spreadsheet day of 1970-01-01
	case t.epoch:
		return epochTime(r.base * t.scale)
	case t.mode == timeDate, t.mode == timeClock && (!t.todOnly || t.baseDays != 0):
		return epochTime(float64(t.baseDays)*86400 + r.base)
	case t.mode == timeClock:
		return time.Time{}
	case f.date.hasDate:
		if d, ok := f.date.days(orderOf(f.date)); ok {
			return epochTime(float64(d)*86400 + f.tod.sec - float64(f.tod.zone))
		}
	}
	return time.Time{}
}
