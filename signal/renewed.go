package signal

import (
	"math"
	"slices"
)

// leastRenewals is the number of clear changes of the feedback that a clock is
// looked for in.
const leastRenewals = 40

// mostIntervals is the number of intervals that are tried for one stretch.
const mostIntervals = 5000

// Renewed is the trace as the feedback was read, for a file whose rows come faster
// than that: a control that reads its converter 25 times a second and writes 100
// rows gives each reading four times over, and what looks like a shaft that rests
// and springs is its clock. Bins are the clock's then, Step is its interval, and the
// other channels are averaged over it. A trace of which each row has a reading of
// its own is itself.
//
// A reading's changes by more than a converter step tell the clock: all of them come
// within a row after its ticks, from the first move to the last. A shaft that sticks
// keeps no such time.
func (t *Trace) Renewed() *Trace {
	period, phase := t.renewal()
	if period == 0 {
		return t
	}
	return t.binned(func(i int) int64 { return int64(math.Floor((t.Time[i] - phase) / period)) }, period, true)
}

// renewal finds the interval of the feedback's clock and one of its ticks, in s; 0
// where there is none.
func (t *Trace) renewal() (period, phase float64) {
	v := t.Feedback.Mean
	if t.RowsPerBin > 1 || t.Len() < 4*leastRenewals || !(t.RowStep > 0) {
		return 0, 0
	}
	equal := 0
	for i := 1; i < len(v); i++ {
		if !(math.Abs(float64(v[i])-float64(v[i-1])) > 0) {
			equal++
		}
	}
	if 2*equal < len(v) {
		return 0, 0 // most rows bring a reading of their own
	}
	least := 1.5 * t.Feedback.Stats.Quantum
	var at, wait []float64
	last := -1
	for i := 1; i < len(v); i++ {
		d := math.Abs(float64(v[i]) - float64(v[i-1]))
		if !(d > 0) {
			continue
		}
		if d < least {
			last = -1
			continue
		}
		if last >= 0 {
			wait = append(wait, t.Time[i]-t.Time[last])
		}
		at, last = append(at, t.Time[i]), i
	}
	if len(wait) < leastRenewals {
		return 0, 0
	}
	slices.Sort(wait)
	usual := wait[len(wait)/2]
	if usual < 1.8*t.RowStep {
		return 0, 0
	}
	gap := make([]float64, len(v)-1)
	for i := range gap {
		gap[i] = t.Time[i+1] - t.Time[i]
	}
	slices.Sort(gap)
	late := max(1.3*t.RowStep, 1.1*gap[len(gap)*95/100])
	share := 0.92
	if usual < 3*t.RowStep {
		share = 0.97
	}
	if late > 0.8*usual {
		late = 0.8 * usual
	}
	// The interval is known the finer the longer the stretch: from the first changes
	// to all of them, twice as many each time.
	best, bestPhase, bestShare := usual, 0.0, 0.0
	lag := make([]float64, len(at))
	from, to := 0.9*usual, 1.1*usual
	for n := min(len(at), leastRenewals); ; n = min(len(at), 2*n) {
		long := at[n-1] - at[0]
		fine := 0.25 * late / long // relative
		// Over a pause of hours no clock is known to a row.
		if !((to-from)/usual < mostIntervals*fine) {
			return 0, 0
		}
		bestShare = 0
		for p := from; p < to; p *= 1 + fine {
			if in, begin := tightest(at[:n], p, late, lag[:n]); in > bestShare {
				best, bestPhase, bestShare = p, begin, in
			}
		}
		if bestShare < share {
			return 0, 0
		}
		if n == len(at) {
			return best, bestPhase
		}
		from, to = best*(1-8*fine), best*(1+8*fine)
	}
}

// tightest gives the largest share of the times that fall into one window of so
// many seconds of a clock's interval, and where the window begins. lag is room to
// work in.
func tightest(at []float64, period, window float64, lag []float64) (share, from float64) {
	for i, x := range at {
		_, f := math.Modf((x - at[0]) / period)
		if f < 0 {
			f++
		}
		lag[i] = f * period
	}
	slices.Sort(lag)
	n, most, begin := len(lag), 0, 0.0
	j := 0
	for i := range n {
		for j < i+n {
			x := lag[j%n]
			if j >= n {
				x += period
			}
			if x-lag[i] > window {
				break
			}
			j++
		}
		if j-i > most {
			most, begin = j-i, lag[i]
		}
	}
	return float64(most) / float64(n), at[0] + begin - 1e-9
}

// binned joins the rows of which tick is the same. The feedback of a bin is averaged, or that of
// its last row; other channels are averaged.
func (t *Trace) binned(tick func(int) int64, step float64, last bool) *Trace {
	var ends []int // one after the last row of each bin
	for i := 1; i <= t.Len(); i++ {
		if i == t.Len() || tick(i) != tick(i-1) {
			ends = append(ends, i)
		}
	}
	p := *t
	p.Step, p.RowStep, p.Uniform = step, step, true
	p.Time = make([]float64, len(ends))
	a := 0
	for k, b := range ends {
		sum := 0.0
		for _, x := range t.Time[a:b] {
			sum += x
		}
		p.Time[k] = sum / float64(b-a)
		a = b
	}
	p.Drive = t.Drive.joined(ends, false)
	p.Feedback = t.Feedback.joined(ends, last)
	for _, s := range p.optional() {
		x := (*s).joined(ends, false)
		*s = &x
	}
	return &p
}

// joined is the series in fewer bins, each up to one of ends.
func (s *Series) joined(ends []int, last bool) Series {
	p := *s
	n := len(ends)
	p.Mean, p.Min, p.Max = make([]float32, n), make([]float32, n), make([]float32, n)
	nan := float32(math.NaN())
	a := 0
	for k, b := range ends {
		sum, m := 0.0, 0
		lo, hi := float32(math.Inf(1)), float32(math.Inf(-1))
		for i := a; i < b; i++ {
			if s.Mean[i] != s.Mean[i] {
				continue
			}
			if last {
				sum, m, lo, hi = 0, 0, s.Min[i], s.Max[i]
			}
			sum += float64(s.Mean[i])
			m++
			lo, hi = min(lo, s.Min[i]), max(hi, s.Max[i])
		}
		p.Mean[k], p.Min[k], p.Max[k] = nan, nan, nan
		if m > 0 {
			p.Mean[k], p.Min[k], p.Max[k] = float32(sum/float64(m)), lo, hi
		}
		a = b
	}
	return p
}
