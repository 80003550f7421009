package analyze

import (
	"fmt"
	"math"
	"slices"
)

// passesStops is the form of a [LoadLost] that shows by stops that are passed later,
// both from one moment on.
const passesStops = "both stops are passed"

// leastPassed is the share of the travel by which a stop must be passed: healthy ones
// give by less, under a motor that pushes on or from one visit to the next (common
// practice, no source).
const leastPassed = 0.02

// passedStop is a stop at which the shaft stood, and which it passed from some visit
// on.
type passedStop struct {
	before, after []stall
	by            float64 // V, at least
}

// findPassedStops tells a door that comes off by its stops: an actuator's own stop is
// passed by nothing, a door's is once the door no longer hangs on it. It takes smaller
// distances than a single stand short of a stop does: both stops that move outward from
// one moment on, or one at which several stands agreed before.
func (w *work) findPassedStops() {
	if w.covered(SpanDrift, None) || w.covered(TravelChange, None) {
		return
	}
	if w.offsetThatComesAndGoes() > 0 {
		return // the same at the other stop, and there and back
	}
	if w.covered(StickSlip, Down) || w.covered(StickSlip, Up) {
		return // it stands anywhere, and where it stood is no stop
	}
	var at [2][]stall
	for _, s := range w.stallsOf() {
		dir := w.moves[s.move].Direction
		depth := w.span.To - s.level
		if dir == Down {
			depth = s.level - w.span.From
		}
		if depth < outerVisits*w.span.Width() && s.seconds > w.lim.StallSeconds && !w.meantToStand(s) && !w.comesSoftly(s) {
			at[side(dir)] = append(at[side(dir)], s)
		}
	}
	var p [2]passedStop
	var ok [2]bool
	for d := range at {
		p[d], ok[d] = w.passedFrom(at[d], Direction(2*d-1))
	}
	if ok[0] && ok[1] {
		w.bothPassed(p)
		return
	}
	if w.covered(LoadLost, None) {
		return
	}
	for d, dir := range []Direction{Down, Up} {
		q := p[d]
		if !ok[d] || len(q.before) < 2 || w.covered(Jam, dir) || w.covered(EndLoss, dir) || w.covered(GearSlip, dir) {
			continue
		}
		lo, hi := extremes(levelsOf(q.before))
		f := Finding{Kind: Jam, Form: jamPassed, Direction: dir, Tie: TieUnknown, TieP: 1, Event: fmt.Sprintf("stall %s", dir), Strength: 0.8,
			Time: noInterval(), Volts: Interval{lo, hi}, Seen: len(q.before), Passes: len(at[d])}
		seconds := 0.0
		for _, x := range q.before {
			seconds += x.seconds
			f.Time = f.Time.widen(x.at).widen(x.at + x.seconds)
			f.Places = append(f.Places, Occurrence{Interval{x.at, x.at + x.seconds}, Interval{x.level, x.level}, dir})
		}
		f.Measures = []Measure{{"stalls", float64(len(q.before)), ""}, {"stalled in all", seconds, "s"}, {MeasureLevel, (lo + hi) / 2, w.unit()}, {"passed by", q.by, w.unit()}}
		w.found = append(w.found, f)
	}
}

// passedFrom looks for the visit from which a stop is passed: those before lie together,
// and so do those after, further out by what neither of them scatters.
func (w *work) passedFrom(s []stall, dir Direction) (best passedStop, ok bool) {
	for k := 1; k < len(s); k++ {
		lo, hi := extremes(levelsOf(s[:k]))
		from, to := extremes(levelsOf(s[k:]))
		gap := from - hi
		if dir == Down {
			gap = lo - to
		}
		shortest := math.Inf(1)
		for _, x := range s {
			shortest = math.Min(shortest, x.seconds)
		}
		scatter := math.Max(hi-lo, to-from)
		// Each of the two levels is off by its error at the most, where that is half a
		// step of the converter.
		least := math.Max(4*scatter, 3*w.plateauError(shortest))
		if gap > math.Max(leastPassed*w.span.Width(), least) && gap > best.by {
			best, ok = passedStop{s[:k], s[k:], gap}, true
		}
	}
	return best, ok
}

// bothPassed reports stops that are both passed from one moment on; where the speed tells
// of a lost load at that moment, as a mark of that.
func (w *work) bothPassed(p [2]passedStop) {
	from, to := math.Inf(-1), math.Inf(1)
	for _, q := range p {
		from, to = math.Max(from, q.before[len(q.before)-1].at), math.Min(to, q.after[0].at)
	}
	if from >= to {
		return
	}
	by := []Measure{{MeasureLowStopPassed, p[0].by, w.unit()}, {MeasureHighStopPassed, p[1].by, w.unit()}}
	for i := range w.found {
		if f := &w.found[i]; f.Kind == LoadLost {
			if f.Form != "" && f.Time.Overlaps(Interval{from, to}) {
				f.Time = Interval{math.Max(from, f.Time.From), math.Min(to, f.Time.To)}
				f.Measures = append(f.Measures, by...)
			}
			return
		}
	}
	w.found = append(w.found, Finding{Kind: LoadLost, Form: passesStops, Tie: TiedToTime, TieP: 1, Time: Interval{from, to}, Volts: w.span, Seen: 1, Passes: len(w.moves),
		Event: "load lost", Strength: 1, Measures: by})
}

// standsAtLostStops leaves out the jams that are nothing but the stands at a door's
// stops of before it came off: they fall short of the actuator's own stops only, and
// nothing was in the way there.
func (w *work) standsAtLostStops() {
	near := w.stallsApart()
	for _, lost := range slices.Clone(w.found) {
		if _, passed := lost.Measure(MeasureLowStopPassed); lost.Kind != LoadLost || !passed {
			continue
		}
		w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
			if f.Kind != Jam || f.Direction == None || len(f.Places) == 0 {
				return false
			}
			stop := w.span.From + lost.value(MeasureLowStopPassed)
			if f.Direction == Up {
				stop = w.span.To - lost.value(MeasureHighStopPassed)
			}
			return !slices.ContainsFunc(f.Places, func(o Occurrence) bool {
				return o.Time.From > lost.Time.From || math.Abs(o.Volts.Mid()-stop) > near
			})
		})
	}
}

// beyondBefore tells whether the shaft was seen further than a level, the way of a
// direction, before a time in s.
func (w *work) beyondBefore(dir Direction, level, at float64) bool {
	near := w.stallsApart()
	for k := range w.moves {
		if w.moves[k].Time.From >= at {
			return false
		}
		lo, hi := w.tracked(&w.moves[k])
		if dir == Up && hi > level+near || dir == Down && lo < level-near {
			return true
		}
	}
	return false
}
