package analyze

import "math"

// triesBothStops is the measure of hunting at an end by a control that tries its stops again by
// a clock, at the one end as at the other: how many steps back there were at both.
const triesBothStops = "steps back by a clock, at both stops"

// retries are those a control made from one stop to drive into it again.
type retries struct {
	rests, steps []float64 // s, off after each stand, and driven away then
	ends         []float64 // V, where the stands before them ended
}

// joinTries marks hunting in which the control tries its stops again: it drives in, gives up
// as nothing moves, rests for a set time, steps back for a set time, and drives in again, at
// either end, while the reading leaves each stop at once. What turns a drive over because of
// the reading keeps no clock, and an obstacle stands at one end: a control that does this at
// both aims beyond the stops of the travel.
func (w *work) joinTries() {
	const least = 2 // steps back from a stop, the fewest that can keep a clock
	for i := range w.found {
		f := &w.found[i]
		if (f.Kind == DeadSpot || f.Kind == NoisyTrack || f.Kind == EndLoss) && f.Strength > 0.5 {
			return // the reading at that end may be why
		}
		if f.Kind == Hunting && f.has(stallFarInside) {
			return // that may be no stop
		}
	}
	low, high := w.stepsBackFrom(Down), w.stepsBackFrom(Up)
	n := len(low.steps) + len(high.steps)
	if min(len(low.steps), len(high.steps)) < least || !w.oneClock(low.steps) || !w.oneClock(high.steps) ||
		!w.oneClock(append(low.rests, high.rests...)) || !w.onePlace(low.ends) || !w.onePlace(high.ends) {
		return
	}
	for i := range w.found {
		f := &w.found[i]
		if f.Kind == Hunting && (f.Form == huntLowEnd || f.Form == huntHighEnd) && f.has(leftAtOnce) {
			f.Event = "hunting" // of one cause, and no stall's
			f.Measures = append(f.Measures, Measure{triesBothStops, float64(n), ""})
		}
	}
}

// stepsBackFrom gives the steps back from the outermost stop of a direction: short drives away
// from it after a stand, each followed by another drive to a stand there, or following one.
func (w *work) stepsBackFrom(dir Direction) retries {
	var out retries
	stands := func(k int) bool { return k < len(w.moves) && w.moves[k].Direction == dir && w.failed(&w.moves[k]) }
	again := false
	for k := 1; k < len(w.moves); k++ {
		m, was := &w.moves[k], &w.moves[k-1]
		// As short as the steps back between tries (see tries).
		if m.Direction != -dir || !stands(k-1) || m.Stalled > 0 || m.Duration() > 1 || math.Abs(m.Travel()) > 0.15*w.span.Width() {
			again = again && m.Direction == dir
			continue
		}
		if stands(k+1) || again {
			out.rests = append(out.rests, m.Time.From-was.Time.To)
			out.steps = append(out.steps, m.Duration())
			out.ends = append(out.ends, was.End)
		}
		again = stands(k + 1)
	}
	return out
}

// oneClock tells whether stretches of time, s, are one length: each of their two edges is
// known to a row, and lies on the beat of a control that looks a hundred times a second or
// more often (common practice, no source). Rows as coarse as that length tell no clock.
func (w *work) oneClock(s []float64) bool {
	lo, hi := extremes(s)
	edges := 2*w.tr.Step + 0.01
	return hi-lo <= edges && edges < lo/4
}

// onePlace tells whether stands, V, were at the outermost place of the travel, nearer than a
// fiftieth of it, as stops and linkage repeat.
func (w *work) onePlace(ends []float64) bool {
	lo, hi := extremes(ends)
	near := w.span.Width() / 50
	return hi-lo < near && (lo < w.span.From+near || hi > w.span.To-near)
}
