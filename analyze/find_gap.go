package analyze

import "math"

// openBetween is the form of a track that is open over a stretch in which the
// control lets the shaft rest: it is entered and left by drives of their own.
const openBetween = "open between"

// gap looks among the leaps for a stretch of track that is open: the reading leaves
// at its one edge driven up and at the other driven down, and comes back at either
// when driven back, or on. A contact in the cable knows neither of the drive nor of
// two places.
func (w *work) gap(all []leap) bool {
	rail := func(v float64) float64 { return math.Min(math.Abs(v), math.Abs(w.ref-v)) }
	var edge [2][]float64 // levels on the track at the low and the high edge
	var places []Occurrence
	moves := map[int]int{}
	when := noInterval()
	strange := 0
	for _, l := range all {
		off, on, leaves := l.after, l.before, 1
		if rail(l.before) < rail(l.after) {
			off, on, leaves = l.before, l.after, -1
		}
		if !l.moving || l.coasting || l.direction == None || rail(off) > w.wideRail() {
			strange++
			continue
		}
		// Left driven up or returned to driven down: the low edge.
		k := side(Direction(-leaves * int(l.direction)))
		edge[k] = append(edge[k], on)
		moves[l.move]++
		when = when.widen(l.at)
		places = append(places, Occurrence{Interval{l.at, l.at}, Interval{math.Min(l.before, l.after), math.Max(l.before, l.after)}, l.direction})
	}
	n := len(edge[0]) + len(edge[1])
	if min(len(edge[0]), len(edge[1])) < 1 || n < 6 || 8*strange > n || len(moves) < 3 {
		return false
	}
	// Moves that go right through it tell it in another way.
	rested := 0
	for _, k := range moves {
		if k == 1 {
			rested++
		}
	}
	if 2*rested < len(moves) {
		return false
	}
	low, high := medianOf(edge[0]), medianOf(edge[1])
	p := 1.0
	for k, at := range []float64{low, high} {
		near := math.Max(w.resolution(), 0.03*w.span.Width())
		in := 0
		for _, v := range edge[k] {
			if math.Abs(v-at) < near {
				in++
			}
		}
		if 10*in < 8*len(edge[k]) {
			return false
		}
		p *= math.Pow(math.Min(0.5, 2*near/w.span.Width()), float64(in-1))
	}
	// An edge that was met once must lie clear of the other: one leap the wrong way
	// makes no second edge.
	apart := 0.0
	if min(len(edge[0]), len(edge[1])) == 1 {
		apart = w.resolution()
	}
	if high-low < apart || p > w.lim.Significance {
		return false
	}
	w.found = append(w.found, Finding{Kind: DeadSpot, Form: openBetween, Tie: TiedToPosition, TieP: p, Time: when, Places: places,
		Volts: Interval{low, high}, Seen: len(moves), Passes: len(moves), Strength: 1 - p, Event: "open end",
		Measures: []Measure{{MeasureLeaps, float64(n), ""}, {"width", high - low, w.unit()}}})
	return true
}
