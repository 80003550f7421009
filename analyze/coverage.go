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
	width := math.Min(1, w.span.Width()/(0.25*w.ref))
	if w.bothEnds() && w.span.Width() > 0.15*w.ref {
		width = 1 // from one stop to the other is all there is
	}
	// Where no stop was run into, more travel may lie beyond: a usual one takes
	// four fifths of the supply, of which half is full credit.
	if least := w.leastTravel(); least > 0 {
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
		return 1 - 1./6
	}
	return 1
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
	have := map[Kind]bool{}
	for _, f := range w.found {
		have[f.Kind] = true
		have[Jam] = have[Jam] || f.has(pushesThere)
	}
	absent := func(k Kind, text string) {
		if !have[k] {
			w.absent = append(w.absent, Absence{k, text})
		}
	}
	blind := func(k Kind, text string) { w.blind = append(w.blind, Absence{k, text}) }
	if w.noPolarity != "" {
		blind(HalfDrive, w.noPolarity)
		return
	}
	if w.oneLead {
		text := "only one motor lead was logged; the other was taken as driven where the reading comes back. A stall that way does not show: log the other lead too"
		if w.leadSure {
			text = "only one motor lead was logged; the other was taken as driven where the current says so. Its volts are not known: log the other lead too"
		}
		blind(OneLead, text)
	}
	span := w.span.Width()
	if have[NotAPot] || span <= 0 {
		if have[NotAPot] {
			blind(NotAPot, "the feedback wire carries pulses or data; only a position voltage can be judged")
		} else if len(w.moves) == 0 {
			blind(NoDrive, "no drive was seen: what the actuator does under drive cannot be judged")
		} else {
			if have[NoMotion] {
				blind(NoMotion, "nothing moved: track, span and load cannot be judged")
			} else {
				blind(NoMotion, "too little was driven to tell what moves: track, span and load cannot be judged")
			}
			w.unlogged(blind)
		}
		return
	}
	r := math.Max(w.rate[0], w.rate[1])
	least := shortestHold(w.tol, w.ref, w.window, r*w.tr.Step)
	u := w.unit()
	absent(DeadSpot, fmt.Sprintf("no dead spot wider than %s (%.1f %% of the span)", amount(least, u), 100*least/span))
	absent(Hunting, "no hunting")
	ends := w.endVisits()
	visits := max(len(ends[0].level), len(ends[1].level))
	passes := len(w.level(w.paces())) // that can be compared, see findHeating
	drifts := slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == SpanDrift && f.Strength > 0.5 || f.Form == passesStops })
	switch {
	case drifts: // said already
	case len(w.sweeps) < 4:
		blind(SpanDrift, fmt.Sprintf("drift and heating need four or more sweeps over most of the travel seen, this capture has %s", orNone(float64(len(w.sweeps)))))
	case visits < 3:
		blind(SpanDrift, fmt.Sprintf("drift needs three visits at a stop, this capture has %s", orNone(float64(visits))))
	default:
		absent(SpanDrift, fmt.Sprintf("no drift of the span over %d sweeps", len(w.sweeps)))
	}
	switch {
	case len(w.sweeps) < 4: // said above
	case passes >= heatingPasses:
		absent(Heating, fmt.Sprintf("no slowing over %d sweeps", len(w.sweeps)))
	default:
		blind(Heating, fmt.Sprintf("slowing needs %d passes to compare, this capture has %s", heatingPasses, orNone(float64(passes))))
	}
	if w.oneLead && !w.leadSure {
		absent(Jam, "no stall short of a stop under the lead that was logged")
	} else {
		absent(Jam, absentJam)
	}
	w.slowAbsent(absent, blind)
	if w.dwells() != nil {
		absent(GearTurn, "no speed that swings with each turn of a gear")
	}
	absent(GearSlip, "no gear slip: no falling back of the reading seen more than once under one drive")
	if held, _ := w.heldAtStops(); w.runningCurrent() < held && !w.d.pulsed {
		absent(HeavyDrag, "no heavy running: the motor needs no more of its torque to turn than is usual")
	}
	rest := 0.0
	for k := range w.moves {
		if k > 0 {
			rest += math.Max(0, w.moves[k].Time.From-w.moves[k-1].Time.To)
		}
	}
	if rest > 0.5 && !w.covered(LastingLeap, None) && !w.covered(AtRail, None) {
		absent(Dropouts, "no loss of signal, neither moving nor at rest")
	}
	if w.slows > 0 {
		show := "log the drive in volts, or sweep from stop to stop"
		if w.driveKnown() {
			show = "sweep from stop to stop"
		}
		blind(SlowZone, fmt.Sprintf("the control slows down over the last %s before each target, and no volts of the drive tell by how much: slow bands and play there do not show; %s", amount(w.slows, u), show))
	}
	var reached [2]bool
	for _, s := range w.stops {
		if s.Extreme {
			reached[side(s.Direction)] = true
		}
	}
	switch {
	case reached[0] && reached[1]:
	case w.oneLead && !w.leadSure:
		blind(EndLoss, "a stop that is run into by the lead that was not logged does not show")
	case w.covered(DriveShift, None), w.covered(LastingLeap, None):
		blind(EndLoss, "the reading is not to be trusted at the stops either: they are not told")
	case !reached[0] && !reached[1]:
		blind(EndLoss, "neither stop was reached, so the ends of the travel were not seen")
	case !reached[0]:
		blind(EndLoss, "the low stop was not reached")
	case !reached[1]:
		blind(EndLoss, "the high stop was not reached")
	}
	if r*w.tr.Step > 0.02*span {
		blind(DeadSpot, fmt.Sprintf("one row every %.0f ms is %.1f %% of the travel: anything shorter is not seen", 1000*w.tr.Step, 100*r*w.tr.Step/span))
	}
	w.unlogged(blind)
	w.profileCoverage(absent, blind)
	if !w.opt.Free {
		blind(Jam, brokenOff)
	}
}

// unlogged says what the channels that were not logged would have told.
func (w *work) unlogged(blind func(Kind, string)) {
	if c := w.tr.Current; c == nil {
		blind(NoMotion, "no motor current: a blocked shaft and a motor that turns unseen look alike where the reading stands")
	} else if c.Unit != "A" {
		blind(NoMotion, "the motor current is not known in amperes: it is compared with itself only, and more than such a motor takes to turn does not show; write its unit into the header (A or mA), or give a factor to amperes (--scale current=1)")
	}
	if w.tr.Reference == nil && !slices.ContainsFunc(w.blind, func(a Absence) bool { return a.Kind == RefLoss }) {
		blind(RefLoss, "no reference channel: a change of the sensor's supply looks like a change of the sensor")
	}
}

// slowAbsent says where no band is slower than the rest: only where the speed shows, which
// takes moves long enough to leave their start behind.
func (w *work) slowAbsent(absent, blind func(Kind, string)) {
	cells, seen := profileCells(w.span.Width(), w.noise, w.quantum), 0
	for _, p := range w.prof {
		if p != nil && len(p.Points) >= 5 { // see findSlowZones
			seen = max(seen, len(p.Points))
		}
	}
	switch share := float64(seen) / float64(max(cells, 1)); {
	case seen == 0:
		blind(SlowZone, "no move is long enough to compare speeds: a slow band does not show")
	case share < 0.8:
		absent(SlowZone, fmt.Sprintf("no band slower than the rest in the %.0f %% of the travel whose speed shows", 100*share))
	default:
		absent(SlowZone, "no band slower than the rest")
	}
}
