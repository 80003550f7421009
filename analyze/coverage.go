package analyze

import (
	"fmt"
	"math"
	"slices"
)

// brokenOff is said where nothing, or nothing for sure, was found.
const brokenOff = "a door that is broken off moves no load and can look healthy: watch the air or the door itself"

// absentJam is said when no jam was found; a free run can take it back.
const absentJam = "no stall short of a stop"

// seenShare is how much of what a healthy actuator does the capture shows, 0
// to 1: travel both ways over its span, and a span wide enough to be one.
func (w *work) seenShare() float64 {
	if w.sense == 0 || w.span.Width() <= 0 {
		return 0
	}
	// Full credit for crossing a quarter of the supply: a short-travel
	// actuator does no more.
	width := math.Min(1, w.span.Width()/math.Min(leastWhole*w.ref, 0.5*w.travelByPace()))
	if w.bothEnds() && w.span.Width() > 0.15*w.ref {
		width = 1 // from one stop to the other is all there is
	}
	if w.converterOpen() { // as likely of the one converter as of the next
		width = (width + w.span.Width()/(leastWhole*nextConverter*w.ref)) / 2
	}
	// Where no stop was run into, more travel may lie beyond: a usual one takes
	// four fifths of the supply, of which half is full credit. One that would take longer
	// for it than any does has a shorter one.
	if least := math.Min(w.leastTravel(), 0.5*w.travelByPace()); least > 0 {
		width = math.Min(width, w.span.Width()/least)
	}
	// Many short moves may add up to what two sweeps show.
	total := 0.0
	var cover [2]Interval
	cover[0] = noInterval()
	cover[1] = cover[0]
	for k := range w.moves {
		m := &w.moves[k]
		lo, hi := w.tracked(m)
		// Pulses too short for a rate still take the shaft on its way.
		if !(hi > lo) && float64(m.Direction)*(m.End-m.Start) > w.visible() {
			lo, hi = math.Min(m.Start, m.End), math.Max(m.Start, m.End)
		}
		if hi > lo {
			total += hi - lo
			c := &cover[side(w.moves[k].Direction)]
			*c = c.widen(lo).widen(hi)
		}
	}
	for d := range cover {
		if !(cover[d].Width() > 0) {
			cover[d] = Interval{}
		}
	}
	less, more := cover[0].Width(), cover[1].Width()
	if less > more {
		less, more = more, less
	}
	both := math.Min(1, less/(0.6*w.span.Width()))
	one := math.Min(1, more/(0.6*w.span.Width()))
	least := less / (0.8 * w.span.Width())
	passes := math.Min(1, math.Max(float64(len(w.sweeps))/2, math.Min(least, total/(2*w.span.Width()))))
	seen := width * (0.3*one + 0.4*both + 0.3*passes)
	return seen
}

// seesShare is how much of what faults leave can show in the channels that were logged,
// 0 to 1, however far it was driven.
func (w *work) seesShare() float64 {
	if w.oneLead && !w.leadSure {
		// Stalls of one of the two ways do not show: half of what a third of the
		// faults (jams, brushes, legs that die) would leave.
		return (1 - 1./6) * (1 - w.unjudged)
	}
	return 1 - w.unjudged
}

// leastTravel is half of a usual travel, in V, where no stop was run into and
// more may lie beyond what was driven; else 0.
func (w *work) leastTravel() float64 {
	for _, s := range w.stops {
		if s.Extreme {
			return 0
		}
	}
	return 0.5 * w.usualTravel()
}

// coverage lists what was looked for and not found, and what the capture
// cannot tell.
func (w *work) coverage() {
	a := w.openAccount()
	if w.noPolarity != "" {
		a.blindTo(HalfDrive, w.noPolarity)
		return
	}
	a.oneLeadOnly()
	a.unloggedDrive()
	if a.have[NotAPot] || w.span.Width() <= 0 {
		a.nothingToJudge()
		return
	}
	r := math.Max(w.rate[0], w.rate[1])
	a.deadSpots(r)
	a.lacks(Hunting, "no hunting")
	a.trends()
	if w.oneLead && !w.leadSure {
		a.lacks(Jam, "no stall short of a stop under the lead that was logged")
	} else {
		a.lacks(Jam, absentJam)
	}
	a.slowBands()
	a.gears()
	a.losses()
	a.slowedTargets()
	a.stopsNotReached()
	a.coarseRows(r)
	a.unlogged()
	w.profileCoverage(a.lacks, a.blindTo)
	if !w.opt.Free {
		a.blindTo(Jam, brokenOff)
	}
}

// account is what coverage has to say of a capture.
type account struct {
	*work
	have map[Kind]bool // found, or joined to what was
}

func (w *work) openAccount() *account {
	a := &account{w, map[Kind]bool{}}
	for _, f := range w.found {
		a.have[f.Kind] = true
		a.have[Jam] = a.have[Jam] || f.has(pushesThere) || f.Kind == NoMotion
	}
	return a
}

// lacks notes that a kind was looked for in vain; not where it was found.
func (a *account) lacks(k Kind, text string) {
	if !a.have[k] {
		a.absent = append(a.absent, Absence{k, text})
	}
}

// blindTo notes that the capture cannot tell of a kind.
func (a *account) blindTo(k Kind, text string) {
	a.blind = append(a.blind, Absence{k, text})
}

func (a *account) oneLeadOnly() {
	switch {
	case !a.oneLead:
	case a.leadSure:
		a.blindTo(OneLead, "only one motor lead was logged; the other was taken as driven where the current says so. Its volts are not known: log the other lead too")
	default:
		a.blindTo(OneLead, "only one motor lead was logged; the other was taken as driven where the reading comes back. A stall that way does not show: log the other lead too")
	}
}

// nothingToJudge says why neither track nor load can be judged.
func (a *account) nothingToJudge() {
	switch {
	case a.have[NotAPot]:
		a.blindTo(NotAPot, "the feedback wire carries pulses or data; only a position voltage can be judged")
		return
	case len(a.moves) == 0:
		a.blindTo(NoDrive, "no drive was seen: what the actuator does under drive cannot be judged")
	case a.have[NoMotion]:
		a.blindTo(NoMotion, "the reading did not move: track, span and load cannot be judged")
	default:
		a.blindTo(NoMotion, "too little was driven to tell what moves: track, span and load cannot be judged")
	}
	a.unlogged()
}

// deadSpots says from which size on they would have shown at rate r.
func (a *account) deadSpots(r float64) {
	least := shortestHold(a.tol, a.ref, a.window, r*a.tr.Step)
	share := 100 * least / a.span.Width()
	if share >= 100 {
		a.blindTo(DeadSpot, "a dead spot would show only if it were wider than all that moved")
		return
	}
	a.lacks(DeadSpot, fmt.Sprintf("no dead spot wider than %s (%.1f %% of the span)", amount(least, a.unit()), share))
}

// trends says whether there were passes enough for drift and heating to show.
func (a *account) trends() {
	ends := a.endVisits()
	visits := max(len(ends[0].level), len(ends[1].level))
	rel := a.level(a.paces())
	passes := len(rel) // that can be compared, see findHeating
	drifts := slices.ContainsFunc(a.found, func(f Finding) bool {
		return f.Kind == SpanDrift && f.Strength > 0.5 || f.Kind == LoadLost && (f.Form != "" || f.has(MeasureLowStopPassed))
	})
	switch {
	case drifts: // said already
	case len(a.sweeps) < 4:
		a.blindTo(SpanDrift, fmt.Sprintf("drift and heating need four or more sweeps over most of the travel seen, this capture has %s", orNone(float64(len(a.sweeps)))))
	case visits < 3:
		a.blindTo(SpanDrift, fmt.Sprintf("drift needs three rests at a stop, this capture has %s", orNone(float64(visits))))
	default:
		a.lacks(SpanDrift, fmt.Sprintf("no drift of the span over %d sweeps", len(a.sweeps)))
	}
	switch {
	case len(a.sweeps) < 4: // said above
	case slowerAtEnd(rel) < 1-heatingLoss:
		if !a.have[Heating] {
			a.blindTo(Heating, fmt.Sprintf("whether it slows as it warms: its last passes have %.0f %% of the speed of earlier ones, but it did not slow from one to the next", 100*slowerAtEnd(rel)))
		}
	case passes >= heatingPasses:
		a.lacks(Heating, fmt.Sprintf("no slowing over %d sweeps", len(a.sweeps)))
	default:
		a.blindTo(Heating, fmt.Sprintf("slowing needs %d passes to compare, this capture has %s", heatingPasses, orNone(float64(passes))))
	}
}

// slowerAtEnd is the middle speed of the last third of the passes over that of the faster of
// the thirds before (a cold start is slow), 1 where there are fewer than can be compared.
func slowerAtEnd(rel []float64) float64 {
	third := len(rel) / 3
	if len(rel) < heatingPasses {
		return 1
	}
	last := len(rel) - third
	return medianOf(rel[last:]) / math.Max(medianOf(rel[:third]), medianOf(rel[third:last]))
}

// slowBands says where no band is slower than the rest: only where the speed shows, which
// takes moves long enough to leave their start behind.
func (a *account) slowBands() {
	cells, seen := profileCells(a.span.Width(), a.noise, a.quantum), 0
	for _, p := range a.prof {
		if p != nil && len(p.Points) >= 5 { // see findSlowZones
			seen = max(seen, len(p.Points))
		}
	}
	switch share := float64(seen) / float64(max(cells, 1)); {
	case seen == 0:
		a.blindTo(SlowZone, movesTooShort+": a slow band does not show")
	case share < 0.8:
		a.lacks(SlowZone, fmt.Sprintf("no band slower than the rest in the %.0f %% of the travel whose speed shows", 100*share))
	default:
		a.lacks(SlowZone, "no band slower than the rest")
	}
}

// gears says what of gears and of the motor's torque was looked for.
func (a *account) gears() {
	if a.dwells() != nil {
		a.lacks(GearTurn, "no speed that swings with each turn of a gear")
	}
	a.lacks(GearSlip, "no gear slip: no falling back of the reading seen more than once under one drive")
	if held, _ := a.heldAtStops(); a.runningCurrent() < held && !a.d.pulsed {
		a.lacks(HeavyDrag, "no heavy running: the motor needs no more of its torque to turn than is usual")
	}
}

// losses says that no signal was lost, where there was rest enough to lose it in.
func (a *account) losses() {
	rest := 0.0
	for k := range a.moves {
		if k > 0 {
			rest += math.Max(0, a.moves[k].Time.From-a.moves[k-1].Time.To)
		}
	}
	atStop := slices.ContainsFunc(a.found, func(f Finding) bool { return f.Form == lostAtStop })
	if rest > 0.5 && !atStop && !a.covered(LastingLeap, None) && !a.covered(AtRail, None) {
		beside := ""
		if a.covered(DeadSpot, None) || a.covered(NoisyTrack, None) {
			beside = " besides"
		}
		a.lacks(Dropouts, "no loss of signal"+beside+", neither moving nor at rest")
	}
}

// slowedTargets says what does not show where a control slows down before its targets.
func (a *account) slowedTargets() {
	if !(a.slows > 0) {
		return
	}
	show := "log the drive in volts, or sweep from stop to stop"
	if a.driveKnown() {
		show = "sweep from stop to stop"
	}
	a.blindTo(SlowZone, fmt.Sprintf("the control slows down over the last %s before each target, and no volts of the drive tell by how much: slow bands and play there do not show; %s", amount(a.slows, a.unit()), show))
}

// stopsNotReached says of which end of the travel nothing is known.
func (a *account) stopsNotReached() {
	var reached [2]bool
	for _, s := range a.stops {
		if s.Extreme {
			reached[side(s.Direction)] = true
		}
	}
	switch {
	case reached[0] && reached[1]:
	case a.oneLead && !a.leadSure:
		a.blindTo(EndLoss, "a stop that is run into by the lead that was not logged does not show")
	case a.covered(DriveShift, None), a.covered(LastingLeap, None):
		a.blindTo(EndLoss, "the reading is not to be trusted at the stops either: they are not told")
	case slices.ContainsFunc(a.found, func(f Finding) bool { return f.Kind == GearSlip && f.has(onlyAtEnds) }):
		a.blindTo(EndLoss, "the shaft does not come to rest at the stops, where the gears let go: where exactly they lie is not seen")
	case !reached[0] && !reached[1]:
		a.blindTo(EndLoss, "neither stop was reached, so the ends of the travel were not seen")
	// Where the track is lost before its stop, the reading does not show the stop, but
	// the shaft was there.
	case !reached[0] && !a.covered(EndLoss, Down):
		a.blindTo(EndLoss, "the low stop was not reached")
	case !reached[1] && !a.covered(EndLoss, Up):
		a.blindTo(EndLoss, "the high stop was not reached")
	}
}

// coarseRows says what falls between two rows at rate r.
func (a *account) coarseRows(r float64) {
	if way, span := r*a.tr.Step, a.span.Width(); way > 0.02*span {
		if way >= span {
			a.blindTo(DeadSpot, fmt.Sprintf("one row every %.0f ms: from one row to the next the reading goes all the way that was seen, so no place of the track shows", 1000*a.tr.Step))
			return
		}
		a.blindTo(DeadSpot, fmt.Sprintf("one row every %.0f ms is %.1f %% of the travel: anything shorter is not seen", 1000*a.tr.Step, 100*r*a.tr.Step/span))
	}
}

// unlogged says what the channels that were not logged would have told.
func (a *account) unlogged() {
	if c := a.tr.Current; c == nil {
		a.blindTo(NoMotion, "no motor current: a blocked shaft and a motor that turns unseen look alike where the reading stands")
	} else if c.Unit != "A" {
		a.blindTo(NoMotion, "the motor current is not known in amperes: it is compared with itself only, and more than such a motor takes to turn does not show; write its unit into the header (A or mA), or give a factor to amperes (--scale current=1)")
	}
	if a.tr.Reference == nil && !slices.ContainsFunc(a.blind, func(b Absence) bool { return b.Kind == RefLoss }) {
		a.blindTo(RefLoss, "no reference channel: a change of the sensor's supply looks like a change of the sensor")
	}
}
