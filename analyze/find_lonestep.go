package analyze

import "math"

// readSince is the measure of a leap over a stretch that was read, row by row, on
// another pass: how many readings of a hundred that the stretch takes there were.
const readSince = "read on another pass"

// What a leap under way must be to be the wiper's, where no stop tells (both chosen,
// not derived).
const (
	leapFlung = 8    // times the running speed: what a spring or a weight flings is slower
	leapLeast = 0.03 // of the reference: twice what play lets a door fall by
)

// findLoneStep reports the one leap of a capture that came the way the shaft was
// driven, where no stop was visited before it and after it that could tell. A dead
// spot shows a hold before such a leap, or none of what was leapt over, each time it
// is passed; here the reading runs up to the leap and goes on from it, and what it
// leapt over is read on another pass as any other place.
func (w *work) findLoneStep() bool {
	if w.covered(DriveShift, None) || w.covered(RefLoss, None) || w.covered(LastingLeap, None) || w.span.Width() <= 0 {
		return false
	}
	all, _ := w.lastingSteps()
	if len(all) != 1 || w.stopsTell(all[0].at) {
		return false
	}
	s := all[0]
	k := w.drivenMoveAt(s.at)
	if k < 0 || math.Abs(s.size) < leapLeast*w.ref || s.size*float64(w.moves[k].Direction) < 0 {
		return false
	}
	rate := w.rate[side(w.moves[k].Direction)]
	// By the rows between which the most of it fell.
	if step := w.largestStep(s); step*s.size < 0 || math.Abs(step) < leapFlung*rate*w.tr.Step || math.Abs(step) < math.Abs(s.size)/3 {
		return false
	}
	if w.gapNear(s) || !w.runsUpTo(s, &w.moves[k], rate) {
		return false
	}
	share := w.readElsewhere(s, k)
	if share < 0.5 {
		return false
	}
	w.found = append(w.found, Finding{Kind: LastingLeap, Form: leapGoesOn, Tie: TiedToTime, TieP: 1, Seen: 1, Passes: 1, Event: "leap", Strength: 0.9,
		Time: Interval{s.at, w.t[len(w.t)-1]}, Volts: Interval{math.Min(s.from, s.to), math.Max(s.from, s.to)},
		Places:   []Occurrence{{Interval{s.at, s.at + 2*w.tr.Step}, Interval{math.Min(s.from, s.to), math.Max(s.from, s.to)}, None}},
		Measures: []Measure{{MeasureFrom, s.from, w.unit()}, {MeasureTo, s.to, w.unit()}, {MeasureStep, s.size, w.unit()}, {readSince, 100 * share, "%"}}})
	return true
}

// stopsTell tells whether one stop was pressed before a moment and after it: then
// findSlippedWiper has asked it.
func (w *work) stopsTell(at float64) bool {
	for _, v := range w.pressings(0) {
		if len(v) > 1 && v[0].at < at && v[len(v)-1].at > at {
			return true
		}
	}
	return false
}

// drivenMoveAt is the driven move at a moment, or -1.
func (w *work) drivenMoveAt(at float64) int {
	for k := range w.moves {
		if m := &w.moves[k]; m.Direction != None && m.Time.From < at && at < m.Time.To {
			return k
		}
	}
	return -1
}

// largestStep is the largest change from one row to the next within a step, in V.
func (w *work) largestStep(s offset) float64 {
	most := 0.0
	for i := max(1, s.first); i <= s.last; i++ {
		if d := w.v[i] - w.v[i-1]; math.Abs(d) > math.Abs(most) {
			most = d
		}
	}
	return most
}

// gapNear tells whether rows are missing in a step, in which a shaft may have run on.
func (w *work) gapNear(s offset) bool {
	for i := s.first + 1; i <= s.last; i++ {
		if w.t[i]-w.t[i-1] > missingRows*w.tr.Step {
			return true
		}
	}
	return false
}

// runsUpTo tells whether the reading ran at its pace over a quarter of a second before
// a step and after it, under the same drive: a hold on either side makes it a place's.
func (w *work) runsUpTo(s offset, m *Move, rate float64) bool {
	n := w.rows(besideStep)
	for _, c := range [2][2]int{{s.first - n, s.first}, {s.last, s.last + n}} {
		if c[0] < m.first || c[1] >= m.last {
			return false
		}
		went := float64(m.Direction) * (w.v[c[1]] - w.v[c[0]])
		if should := rate * (w.t[c[1]] - w.t[c[0]]); went < 0.6*should-w.tol || went > 1.5*should+w.tol || should < 2*w.tol {
			return false
		}
	}
	return true
}

// readElsewhere is how many of the readings that what was leapt over takes at the
// usual pace another pass shows there, 1 for all of them.
func (w *work) readElsewhere(s offset, leapt int) float64 {
	lo, hi := math.Min(s.from, s.to), math.Max(s.from, s.to)
	best := 0.0
	for k := range w.moves {
		m := &w.moves[k]
		if k == leapt || m.Direction == None {
			continue
		}
		n := 0
		for i := m.first; i < m.last; i++ {
			if w.v[i] > lo && w.v[i] < hi {
				n++
			}
		}
		// It has to come in on one side and go out on the other.
		a, b := w.v[m.first], w.v[m.last-1]
		if math.Min(a, b) > lo || math.Max(a, b) < hi {
			continue
		}
		best = math.Max(best, float64(n)*w.tr.Step*w.rate[side(m.Direction)]/(hi-lo))
	}
	return math.Min(1, best)
}
