package analyze

import (
	"fmt"
	"math"
	"slices"
)

// triesFromThere is the name of a measure: drives that set out from a stall and
// got no further.
const triesFromThere = "tries from there"

// findJams reports stalls short of a stop that was reached at another time.
func (w *work) findJams(stalls []stall, hidden []float64) {
	span := w.span.Width()
	if span <= 0 {
		return
	}
	// A drive that sets out from the stall is a try to get past it, however it
	// trembled there.
	near := w.stallsApart()
	least := math.Max(w.tol, 0.01*span)
	pulsed := w.barred(stalls, least, near)
	short, vain := map[Direction][]stall{}, map[Direction][]stall{}
	for i, s := range stalls {
		if hidden[i] > 0 || w.meantToStand(s) {
			continue
		}
		dir := w.moves[s.move].Direction
		if arrived := s.arrived && math.Abs(w.moves[s.move].Start-s.level) > least || pulsed[s.move]; !arrived {
			vain[dir] = append(vain[dir], s)
		} else if w.fallsShort(s, dir) {
			short[dir] = append(short[dir], s)
		}
	}
	for _, dir := range []Direction{Down, Up} {
		s, inVain := short[dir], vain[dir]
		if len(s) == 0 {
			s, inVain = w.blockedInVain(inVain, dir, near)
		}
		if len(s) == 0 {
			continue
		}
		// Later drives that start at the stall and move nothing are tries to
		// get past it.
		level := medianOf(levelsOf(s))
		retries := slices.DeleteFunc(inVain, func(x stall) bool { return math.Abs(x.level-level) >= near })
		f := w.jam(dir, s, retries)
		if w.turnsUnseen(s, stalls) {
			f.Kind, f.Form = GearSlip, motorTurns
		}
		w.found = append(w.found, f)
	}
	w.findTurningStop(stalls)
	w.findShortStop()
}

// levelsOf are the levels at which stalls stand, in V.
func levelsOf(stalls []stall) (out []float64) {
	for _, s := range stalls {
		out = append(out, s.level)
	}
	return out
}

// fallsShort tells whether a stall stands clear of the stop it was driven to and of
// the one it came from.
func (w *work) fallsShort(s stall, dir Direction) bool {
	if w.comesSoftly(s) || s.seconds < 2*w.wave || !w.clearOfWander(s) {
		return false
	}
	span := w.span.Width()
	level := w.letGo(s, dir)
	gap := w.span.To - level
	if dir == Down {
		gap = level - w.span.From
	}
	// A stand is read over many rows: its level is known better than any one reading.
	if gap < math.Max(0.04*span, 4*w.visible()) {
		return false
	}
	// A drive that comes no further than the end it set out from did not
	// leave the stop; nothing stands in its way on the travel.
	return span-gap >= math.Max(0.05*span, 4*w.visible())
}

// letGo is where a stall is by the reading once the drive is off, in V, if that lies
// further the way it was driven: nothing draws a shaft on, it is what the motor's current
// had put on the reading that goes. Else it is the level of the stall: seals and springs
// push a shaft back. Instruments with a slow filter take their time, so the last quarter
// of a rest is asked, of half a second at least. Next to a rail the sensor may be off.
func (w *work) letGo(s stall, dir Direction) float64 {
	const settles = 0.5
	first, last := w.moves[s.move].last, len(w.v)
	if s.move+1 < len(w.moves) {
		last = w.moves[s.move+1].first
	}
	if first >= last || lapse(w.t[last-1], w.t[first]) < settles {
		return s.level
	}
	rest := medianOf(w.v[last-max(1, (last-first)/4) : last])
	rail := w.opt.RailBand * w.ref
	if float64(dir)*(rest-s.level) < 2*w.tol || rest < rail || rest > w.ref-rail {
		return s.level
	}
	return rest
}

// jam is the finding of stalls short of a stop, and of the tries from there.
func (w *work) jam(dir Direction, s, retries []stall) Finding {
	lev := levelsOf(s)
	level := medianOf(lev)
	spread := quantileOf(lev, 0.9) - quantileOf(lev, 0.1)
	f := Finding{Kind: Jam, Direction: dir, Tie: TieUnknown, TieP: 1, Event: fmt.Sprintf("stall %s", dir)}
	f.Volts = Interval{quantileOf(lev, 0.1), quantileOf(lev, 0.9)}
	f.Time = noInterval()
	seconds := 0.0
	for _, x := range slices.Concat(s, retries) {
		seconds += x.seconds
		f.Time = f.Time.widen(x.at).widen(x.at + x.seconds)
	}
	for _, x := range s {
		f.Places = append(f.Places, Occurrence{Interval{x.at, x.at + x.seconds}, Interval{x.level, x.level}, dir})
	}
	f.Seen = len(s)
	f.Passes = max(w.drivesTo(level, dir), len(s))
	f.Measures = []Measure{
		{"stalls", float64(len(s)), ""}, {"stalled in all", seconds, "s"},
		{MeasureLevel, level, w.unit()}, {"spread of the stall level", spread, w.unit()},
	}
	if len(retries) > 0 {
		f.Measures = append(f.Measures, Measure{triesFromThere, float64(len(retries)), ""})
	}
	w.weighJam(&f, s, len(retries), level, spread)
	return f
}

// drivesTo counts the drives in a direction that set out from before a level and came
// there, or were stopped on the way.
func (w *work) drivesTo(level float64, dir Direction) int {
	n, span := 0, w.span.Width()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == dir && float64(dir)*(level-m.Start) > w.tol {
			lo, hi := w.tracked(m)
			if dir == Up && hi > level-0.03*span || dir == Down && lo < level+0.03*span || m.Stalled > w.lim.StallSeconds {
				n++
			}
		}
	}
	return n
}

// weighJam says how the stalls lie to each other, and how sure that makes a jam.
func (w *work) weighJam(f *Finding, s []stall, retries int, level, spread float64) {
	f.Strength = 1 - math.Exp(-float64(len(s)))
	switch {
	case len(s) >= 2:
		share := math.Min(1, (spread+w.resolution())/w.span.Width())
		f.TieP = math.Pow(share, float64(len(s)-1))
		if f.TieP < w.lim.Significance || share < 0.1 {
			f.Tie = TiedToPosition
			f.Form = jamOnePlace
		} else {
			f.Form = jamScattered
		}
	case retries > 0:
		// A try that gets no further is a second stall at the place.
		f.Form = jamNotPast
		f.Strength = 1 - math.Exp(-float64(1+retries))
	default:
		f.Form = jamOnce
		// A motor that tires does not run back as if nothing were.
		if s[0].seconds > 0.5 && w.ranBack(s[0]) {
			f.Strength = 0.8
			f.Measures = append(f.Measures, Measure{ranBackFreely, 1, ""})
		}
		if !w.beyondBefore(f.Direction, level, s[0].at) {
			f.Measures = append(f.Measures, Measure{reachedLater, 1, ""})
		}
	}
	if len(s) == 1 && w.passedAfter(f.Direction, level, s[0].at) {
		// What a later drive passes without stopping has given way, or it
		// was the motor that failed for a moment.
		f.Form = jamPassed
		f.Strength = math.Max(f.Strength, 1-math.Exp(-float64(1+retries)))
	}
}

// barred gives the moves of the stalls at which pulses found no way on, three times or
// more in a direction and each time at one place: brushes that do not start the motor
// do so wherever it had come to rest.
func (w *work) barred(stalls []stall, least, near float64) map[int]bool {
	out := map[int]bool{}
	for _, dir := range []Direction{Down, Up} {
		var at []stall
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, s := range stalls {
			if w.moves[s.move].Direction == dir && w.arrivedBefore(s, least, near) {
				at = append(at, s)
				lo, hi = math.Min(lo, s.level), math.Max(hi, s.level)
			}
		}
		if len(at) < 3 || hi-lo > near || w.passedAfter(dir, (lo+hi)/2, at[0].at) {
			continue
		}
		for _, s := range at {
			out[s.move] = true
		}
	}
	return out
}

// arrivedBefore tells whether the shaft came to a stand at the end of the pulse before:
// a control that goes by pulses stands still between them, and only the next ones show
// that there is no way on. One of them may be too short to start the motor; three in a
// row, that would have taken the shaft a twentieth of its way, are not.
func (w *work) arrivedBefore(s stall, least, near float64) bool {
	if s.arrived || s.move == 0 {
		return false
	}
	m, now := &w.moves[s.move-1], &w.moves[s.move]
	const inVain, way = 3, 0.05
	driven := 0.0
	for k := s.move; k < s.move+inVain; k++ {
		if k >= len(w.moves) || w.moves[k].Direction != now.Direction || w.moves[k].Moving > 0 || k > s.move && w.moves[k].Time.From-w.moves[k-1].Time.To > 1 {
			return false
		}
		driven += w.moves[k].Duration() * math.Abs(w.moves[k].DriveMean) / w.d.amp
	}
	if w.rate[side(now.Direction)]*driven < way*w.span.Width() {
		return false
	}
	return m.Direction == now.Direction && now.Time.From-m.Time.To < 1 && m.Moving > 0 && m.Stalled < w.lim.StallSeconds &&
		float64(m.Direction)*(m.End-m.Start) > least && math.Abs(m.End-s.level) < near
}

// letDown tells whether the control had turned the drive down before a stand and
// keeps it there: with less than so much of its volts a sound motor need not move
// its load, and the shaft stands because it was meant to slow down. What falls only
// when the shaft stands is the supply.
func (w *work) letDown(s stall) bool {
	const low = 0.6 // share of full drive
	if !w.driveKnown() {
		return false
	}
	m := &w.moves[s.move]
	a, b := indexAt(w.t, s.at), indexAt(w.t, s.at+s.seconds)
	before := max(m.first, indexAt(w.t, s.at-0.3))
	share := func(from, to int) float64 {
		sum := 0.0
		for _, v := range w.d.mean[from:to] {
			sum += math.Abs(v)
		}
		return sum / float64(max(1, to-from)) / w.d.amp
	}
	return b > a && share(a, b) < low && (before >= a || share(before, a) < turnedDown)
}

// passedAfter tells whether drives in the direction that began later tracked from
// before the level to beyond it: one, or pulses of which each sets out from where the
// one before had ended.
func (w *work) passedAfter(dir Direction, level, at float64) bool {
	near := w.stallsApart()
	lo, hi, last := math.Inf(1), math.Inf(-1), math.NaN()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir || m.Time.From <= at {
			last = math.NaN()
			continue
		}
		if !(math.Abs(m.Start-last) < near) {
			lo, hi = math.Inf(1), math.Inf(-1)
		}
		a, b := w.tracked(m)
		lo, hi, last = math.Min(lo, a), math.Max(hi, b), m.End
		if lo < level+near && hi > level-near && (dir == Up && hi > level+2*near || dir == Down && lo < level-2*near) {
			return true
		}
	}
	return false
}

// turnsUnseen tells whether the current says that the motor turned during the
// given stands: it stays well below the current of the stalls at the stops. A
// blocked motor draws the same current wherever it is blocked; brushes and
// heat change it by a tenth or two.
func (w *work) turnsUnseen(stands, all []stall) bool {
	if w.tr.Current == nil {
		return false
	}
	here := map[int]bool{}
	for _, s := range stands {
		here[s.move] = true
	}
	// One short stand of a noisy reading may be none.
	seconds := 0.0
	for _, s := range stands {
		seconds += s.seconds
	}
	if len(stands) < 2 && seconds < 1 {
		return false
	}
	stand, stop := w.standCurrent(stands, nil), w.standCurrent(all, here)
	// No current at all is an open circuit, not a motor that turns.
	if idle, run := w.idleCurrent(), w.runningCurrent(); stand < idle+noneOfRunning*(run-idle) {
		return false
	}
	if w.drawsAsRunning(stand, w.moves[stands[0].move].Direction, here) {
		return true
	}
	// A blocked motor draws more than a running one, always.
	if stand < 0.9*w.runningCurrent() {
		return true
	}
	return stand < 0.7*stop // false for NaN
}

// standCurrent is the usual current of stands at full drive or near it, as it would be
// at full drive, A, those of some moves left out; NaN where too little of it was logged.
func (w *work) standCurrent(s []stall, skip map[int]bool) float64 {
	c := w.tr.Current
	full := w.steadyDrive()
	// Moments without any current are those of an open circuit, and tell neither
	// a motor that turns nor one that is blocked.
	none, _ := w.noCurrentLevel()
	var x []float64
	for _, st := range s {
		if skip[st.move] || st.seconds < 3*w.lim.StallSeconds || w.goesOnAsleep(st.move) {
			continue
		}
		a, b := indexAt(w.t, st.at+w.lim.StallSeconds), indexAt(w.t, st.at+st.seconds-w.lim.StallSeconds)
		for i := min(a, b); i < max(a, b); i++ {
			// Pulsed or turned down, a blocked motor draws less as well, in proportion; one
			// that turns draws what its load needs. So to take all of it in proportion errs
			// on the side of a blocked one, also where a feed sags under the stall.
			if full[i] < turnedDown*w.d.amp {
				continue
			}
			if f := math.Abs(float64(c.Mean[i])); f >= none {
				x = append(x, f*math.Max(1, w.d.amp/full[i]))
			}
		}
	}
	if len(x) < 10 {
		return math.NaN()
	}
	return medianOf(x)
}

// steadyDrive is the unsigned drive averaged over a tenth of a second, so that
// a pulse is not taken for full drive.
func (w *work) steadyDrive() []float64 { return w.steady.of(w.measureSteadyDrive) }

func (w *work) measureSteadyDrive() []float64 {
	abs := make([]float64, len(w.d.mean))
	for i, v := range w.d.mean {
		abs[i] = math.Abs(v)
	}
	return movingMean(abs, w.rows(0.1)|1)
}

// idleCurrent is the median unsigned current while nothing drives; 0 when
// unknown.
func (w *work) idleCurrent() float64 { return w.idleAmps.of(w.measureIdleCurrent) }

func (w *work) measureIdleCurrent() float64 {
	x := w.ampsAtRest()
	if len(x) == 0 {
		return 0
	}
	return medianIn(x)
}

// ampsAtRest are the sizes, in A, of the current while nothing drives; none where there is
// no current or hardly a rest.
func (w *work) ampsAtRest() []float64 {
	if w.tr.Current == nil {
		return nil
	}
	var x []float64
	for i, p := range w.d.pol {
		if f := math.Abs(float64(w.tr.Current.Mean[i])); p == 0 && !math.IsNaN(f) {
			x = append(x, f)
		}
	}
	if len(x) < 10 {
		return nil
	}
	return x
}

// runningCurrent is the median current while the reading follows the drive,
// starts left out; NaN when unknown.
func (w *work) runningCurrent() float64 { return w.runAmps.of(w.measureRunningCurrent) }

func (w *work) measureRunningCurrent() float64 {
	return w.runningOf(func(*Move) bool { return true })
}

// runningOf is the median unsigned current, in A, at full drive while the reading follows
// it, starts left out, in the moves that are wanted; NaN where too little of it was
// logged.
func (w *work) runningOf(wanted func(m *Move) bool) float64 {
	c := w.tr.Current
	if c == nil {
		return math.NaN()
	}
	full := w.steadyDrive()
	var x []float64
	for k := range w.moves {
		m := &w.moves[k]
		if !wanted(m) {
			continue
		}
		for _, g := range m.segs {
			if g.state != track {
				continue
			}
			for i := g.first; i < g.last; i++ {
				if lapse(w.t[i], m.Time.From) < w.lim.StallSeconds || full[i] < 0.9*w.d.amp {
					continue
				}
				if f := math.Abs(float64(c.Mean[i])); !math.IsNaN(f) {
					x = append(x, f)
				}
			}
		}
	}
	if len(x) < 10 {
		return math.NaN()
	}
	return medianIn(x)
}

// ranBack tells whether the move after a stall left the place at once and
// travelled at least a tenth of the span.
func (w *work) ranBack(s stall) bool {
	k := s.move + 1
	if k >= len(w.moves) || w.moves[k].Direction != -w.moves[s.move].Direction {
		return false
	}
	m := &w.moves[k]
	lo, hi := w.tracked(m)
	return hi-lo > 0.1*w.span.Width() && m.Delay < 0.3
}
