package analyze

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// A tooth that is missing, or jams, stops the shaft once per turn of its gear. Where the
// way bends the reading (a lever, a bent track) the places are not evenly spaced in it;
// the turns of the motor between them are, and with the volts held so is the time. One
// pass with enough of them tells: what sticks by its friction springs on faster than the
// motor turns it, and a reading that only stood catches up; a tooth that was not there
// gives nothing back.

// afterEqualTurns is the form of a gear's turns that time tells, not the places.
const afterEqualTurns = "after equal turns of the motor"

// evenStands is a run of such stands in one move.
type evenStands struct {
	move   int
	at     []segment
	gap    float64 // s of running between two, the middle one
	period float64 // s from one to the next
	off    float64 // s, the standard error of the period
}

// findEvenStands reports them by the move with most of them.
func (w *work) findEvenStands() {
	if w.d.pulsed || w.sense == 0 {
		return
	}
	var all []*evenStands
	for k := range w.moves {
		if e := w.evenStandsIn(k); e != nil {
			all = append(all, e)
		}
	}
	if len(all) == 0 || !w.driveKnown() && !w.keepNoTime(all) {
		return
	}
	best := slices.MaxFunc(all, func(a, b *evenStands) int { return len(a.at) - len(b.at) })
	f := Finding{Kind: GearTurn, Form: afterEqualTurns, Tie: TiedToPosition, TieP: 0.001, Event: "turn", Volts: noInterval(), Time: noInterval(),
		Seen: len(all), Passes: len(all), Strength: 1 - math.Exp(-float64(len(best.at)-3)/2)}
	var spacings, lasted []float64
	var dirs [2]int
	for _, e := range all {
		m := &w.moves[e.move]
		dirs[side(m.Direction)]++
		for i, g := range e.at {
			lo, hi := extremes(w.v[g.first:g.last])
			t := Interval{w.t[g.first], w.t[g.last]}
			f.Time, f.Volts = f.Time.widen(t.From).widen(t.To), f.Volts.widen(lo).widen(hi)
			f.Places = append(f.Places, Occurrence{t, Interval{lo, hi}, m.Direction})
			lasted = append(lasted, t.Width())
			if i > 0 {
				spacings = append(spacings, math.Abs(medianOf(w.v[g.first:g.last])-medianOf(w.v[e.at[i-1].first:e.at[i-1].last])))
			}
		}
	}
	f.Direction = oneDirection(dirs)
	spacing, n := medianOf(spacings), float64(len(best.at))
	f.Measures = []Measure{
		{MeasureSpacing, spacing, w.unit()},
		{MeasureSpacingOfSpan, 100 * spacing / w.span.Width(), "%"},
		{MeasurePlaces, n, ""},
		{slowestOverUsual, 0, ""},
		{"places slow", n, ""}, {"places crossed", n, ""},
		{"stands", medianOf(lasted), "s"}, {"runs between", best.gap, "s"},
	}
	// A slope over a window shortens a stand of the reading: see longest in evenStandsIn.
	if w.standsLong(&f) {
		return
	}
	w.found = append(w.found, f)
}

// keepNoTime tells whether two drives show that no timer makes the stands: where no volts
// were logged a control may switch its motor off between whiles unseen. A timer begins
// with the drive, so that the first stand comes as long after each start, or it runs on by
// itself, at one period; a gear comes round by the way that it was turned, at another
// period where the shaft runs at another speed.
func (w *work) keepNoTime(all []*evenStands) bool {
	for i, a := range all {
		for _, b := range all[:i] {
			least := 2*halfTooth*math.Max(a.period, b.period) + 4*w.tr.Step
			waits := w.t[a.at[0].first] - w.moves[a.move].Time.From - (w.t[b.at[0].first] - w.moves[b.move].Time.From)
			if math.Abs(waits) > least && math.Abs(a.period-b.period) > 3*math.Hypot(a.off, b.off) {
				return true
			}
		}
	}
	return false
}

// evenStandsIn gives the stands of a move where all that it shows under way are of that
// kind; nil otherwise. Five that are as even as teeth are not so by chance: four gaps at
// random lie within a seventh of one another once in some thousands.
func (w *work) evenStandsIn(move int) *evenStands {
	const least = 5
	m := &w.moves[move]
	near := w.lim.EndZone * w.span.Width()
	e := &evenStands{move: move}
	for i := 1; i+1 < len(m.segs); i++ {
		g := m.segs[i]
		if g.state != still || m.segs[i-1].state != track || m.segs[i+1].state != track || g.last >= len(w.t) {
			continue
		}
		if at := medianOf(w.v[g.first:g.last]); at > w.span.From+near && at < w.span.To-near {
			e.at = append(e.at, g)
		}
	}
	if len(e.at) < least {
		return nil
	}
	var gaps, starts, lasted []float64
	for i, g := range e.at {
		lasted = append(lasted, w.t[g.last]-w.t[g.first])
		if i > 0 {
			gaps = append(gaps, w.t[g.first]-w.t[e.at[i-1].last])
			starts = append(starts, w.t[g.first]-w.t[e.at[i-1].first])
		}
	}
	e.gap, e.period = medianOf(gaps), medianOf(starts)
	e.off = math.Max(stat.StdDev(starts, nil), w.tr.Step) / math.Sqrt(float64(len(starts)))
	lo, hi := extremes(starts)
	_, longest := extremes(lasted)
	// A stand of a third of the turn is more than a tooth or two (chosen, not derived).
	if hi-lo > 2*halfTooth*e.period+4*w.tr.Step || longest > e.gap/2 || w.catchesUp(e) {
		return nil
	}
	return e
}

// catchesUp tells whether the reading runs on from stands faster, over as long as they
// lasted, than later on the way to the next: by more than speeds differ along the travel.
func (w *work) catchesUp(e *evenStands) bool {
	const differ = 1.3 // common practice, no source
	dir := float64(w.moves[e.move].Direction)
	var ratio []float64
	for i := 0; i+1 < len(e.at); i++ {
		g, next := e.at[i], e.at[i+1].first
		b := min(g.last+max(w.window, g.last-g.first), (g.last+next)/2)
		c := (g.last + next) / 2
		early := dir * (w.v[b] - medianOf(w.v[g.first:g.last])) / (w.t[b] - w.t[g.last])
		later, _ := straightLine(w.t[c:next], w.v[c:next])
		if later *= dir; later <= 0 {
			return true
		}
		ratio = append(ratio, early/later)
	}
	return medianOf(ratio) > differ
}
