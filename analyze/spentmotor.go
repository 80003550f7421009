package analyze

import (
	"math"
	"slices"
)

// dropSpent takes back what the reading and the stalls of a motor show that has become too
// hot to move its load: it runs down on the way, and where it then stands is no stop, no
// end of the track and no obstacle. Only a motor that gets slower from pass to pass is
// taken for such a one. What its ends did before stays, where they show it by themselves.
func (w *work) dropSpent() {
	const fewVisits = 3
	if !w.has(Heating) {
		return
	}
	from := w.spentFrom()
	if math.IsInf(from, 1) {
		return
	}
	ends := w.endVisits()
	drifts := false
	for d := range ends {
		e := &ends[d]
		n := 0
		for n < len(e.at) && e.at[n] < from {
			n++
		}
		e.x, e.at, e.level = e.x[:n], e.at[:n], e.level[:n]
	}
	for d := range ends {
		drifts = drifts || len(ends[d].level) >= fewVisits && w.endTrend(ends, d).real
	}
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
		switch f.Kind {
		case SpanDrift, TravelChange:
			return !drifts
		case Hunting, EndLoss, Jam, Play:
			return f.Time.From >= from
		}
		return false
	})
}

// spentFrom is when, in s, the pass begins in which the motor is spent: it runs down on its
// way, and no later drive, either way, takes the shaft as far as half of what it went
// in that time before, unless that one runs down too. It is infinite where there is none.
func (w *work) spentFrom() float64 {
	const (
		tried = 3   // later drives, so that it is no end of a capture
		brief = 0.5 // s of drive that show no way
	)
	if !w.driveKnown() && w.tr.Supply == nil {
		return math.Inf(1)
	}
	var ways [2]int // later drives
	from, runsDown := math.Inf(1), 0
	for k := len(w.moves) - 1; k >= 0; k-- {
		m := &w.moves[k]
		if m.Direction == None || m.Duration() < brief {
			continue
		}
		d := side(m.Direction)
		down := w.movesToAStand(m)
		if !down && !(math.Abs(m.Travel()) < 0.5*math.Min(w.rate[d]*m.Duration(), w.span.Width())) {
			break
		}
		if down && ways[0] > 0 && ways[1] > 0 && ways[0]+ways[1] >= tried {
			from, runsDown = m.Time.From, runsDown+1
		}
		ways[d]++
	}
	return from
}

// movesToAStand tells whether the shaft loses its speed bit by bit in a move of a quarter of the
// span at least, down to less than half of what it began with, at the same drive. At a stop
// it is lost at once, at a seal in the last of the way; and a load that grows along the way
// takes half of a sound motor's speed at the most, none being loaded beyond the point of its
// greatest power.
func (w *work) movesToAStand(m *Move) bool {
	const parts = 4
	last := m.first
	for _, s := range m.segs {
		if s.state == track {
			last = min(s.last, len(w.v)-1)
		}
	}
	first := m.first + w.rows(w.lim.StallSeconds)
	n := (last - first) / parts
	if n < 2*w.window || math.Abs(w.v[last]-w.v[first]) < 0.25*w.span.Width() {
		return false
	}
	var speed, drive [parts]float64
	for i := range speed {
		a, b := first+i*n, first+(i+1)*n
		slope, _ := straightLine(w.t[a:b], w.v[a:b])
		speed[i] = float64(m.Direction) * slope
		drive[i] = math.Abs(mean(w.d.mean[a:b]))
		if i > 0 && !(speed[i] < speed[i-1]) {
			return false
		}
	}
	return speed[parts-1] < speed[0]/2 && drive[parts-1] > 0.9*drive[0]
}
