package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// findFloatsBeyond looks for a track that is open beyond a place where the open wire
// holds no level: it picks up hum, or drifts to wherever a capacitor was left, so that
// no leap leads out and none comes back from the same level (see [work.findEdges]). What
// repeats is the place: driven to it the reading goes astray, to the end of that drive,
// and driven back it is found again where it was lost, by a leap, visit after visit.
func (w *work) findFloatsBeyond() {
	// Where it is thrown about, or leaps from one level to another, that is told already.
	if w.openEnded() || slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == NoisyTrack && f.Strength > 0.5 }) {
		return
	}
	for _, d := range []Direction{Down, Up} {
		if w.floatsBeyond(d) {
			w.joinOpenEnd()
			w.standsAstray(w.found[len(w.found)-1].Places)
			return
		}
	}
}

// standsAstray overrules stands that fall into the times at which the reading had gone
// astray: the level of an open wire is no place of the shaft.
func (w *work) standsAstray(astray []Occurrence) {
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Jam && f.Kind != Pauses && f.Kind != EndLoss || len(f.Places) == 0 {
			continue
		}
		known := !slices.ContainsFunc(f.Places, func(o Occurrence) bool {
			return !slices.ContainsFunc(astray, func(a Occurrence) bool { return a.Time.Overlaps(o.Time) })
		})
		if known {
			f.Strength *= 0.05
		}
	}
}

func (w *work) floatsBeyond(d Direction) bool {
	var lost, back []float64
	when := noInterval()
	var places []Occurrence
	strays, leapt := 0, 0
	for i := range w.events {
		e := &w.events[i]
		b := w.foundAgain(i, d)
		if b == nil {
			if e.out() > 0.1*w.ref && (i == 0 || w.foundAgain(i-1, d) == nil) {
				strays++
			}
			continue
		}
		lost, back = append(lost, e.from), append(back, b.to)
		if math.Abs(b.jump) > 0.05*w.ref {
			leapt++
		}
		when = when.widen(w.t[e.first]).widen(w.t[b.last-1])
		places = append(places, Occurrence{Interval{w.t[e.first], w.t[b.last-1]}, Interval{math.Min(e.low, b.low), math.Max(e.high, b.high)}, d})
	}
	n := len(back)
	// Most come back by a leap, as chance has it with a wire that swings: a shaft that
	// comes back is followed.
	if n < 2 || 4*strays > n || 3*leapt < 2*n {
		return false
	}
	edge, near := medianOf(back), w.resolution()
	if spreadOf(back) > near || spreadOf(append(lost, edge)) > math.Max(3*near, 0.05*w.ref) || w.passedOver(edge, near) > 0 || !w.tracksNear(edge) {
		return false
	}
	lo, hi := extremes(back)
	p := math.Pow(0.5, float64(2*n-1)) * stats.RangePValue(w.drivenShare(lo, hi), n)
	if p > w.lim.Significance {
		return false
	}
	w.found = append(w.found, Finding{Kind: DeadSpot, Form: openBeyond, Direction: d, Tie: TiedToPosition, TieP: p, Time: when, Places: places,
		Volts: Interval{lo, hi}, Seen: n, Passes: n, Strength: 1 - math.Exp(-0.7*float64(n)), Event: "open end",
		Measures: []Measure{{MeasureEdge, edge, w.unit()}, {MeasureLeaps, float64(n), ""}, {MeasureLeapsAtRest, 0, ""}}})
	return true
}

// foundAgain is the loss at the start of the next drive back, where the reading was
// lost on a drive towards d and not found to its end; nil where there is none.
func (w *work) foundAgain(i int, d Direction) *event {
	// Where the reading goes back while the shaft is driven on, and is further back than
	// where the shaft then comes from, it is none of the shaft's.
	astray := func(e *event, at float64) bool {
		if d == Up {
			return at-e.low > 0.1*w.ref
		}
		return e.high-at > 0.1*w.ref
	}
	e := &w.events[i]
	if e.place != atEnd || w.moves[e.move].Direction != d || i+1 >= len(w.events) || !astray(e, e.from) {
		return nil
	}
	b := &w.events[i+1]
	// Where the wire holds a level for a while, the reading stands as if it were tracked
	// before it comes back.
	if i+2 < len(w.events) && b.move == e.move+1 && b.place == atStart && math.Abs(b.to-e.from) > 0.1*w.ref {
		if n := &w.events[i+2]; n.move == b.move && math.Abs(n.from-b.to) < 0.1*w.ref {
			one := *n
			one.first, one.place = b.first, b.place
			one.low, one.high = math.Min(b.low, n.low), math.Max(b.high, n.high)
			b = &one
		}
	}
	if b.move != e.move+1 || b.place != atStart || w.moves[b.move].Direction != -d || !astray(b, b.to) {
		return nil
	}
	return b
}
