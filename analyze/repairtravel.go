package analyze

import (
	"fmt"
	"math"
	"slices"
)

// repairSpan is how far, as a share, the travel of one actuator may differ
// between two captures in good order: play, seals, and a new actuator's own
// track (common practice, no source).
const repairSpan = 0.06

// travelRepaired compares the travel itself before and after: a stop that
// lies further out, or a higher speed, shows what was wrong before even where
// the capture before could not know it, and a shorter or slower travel after
// it is new.
func (r *Repair) travelRepaired(before, after []*Capture) {
	pick := func(list []*Capture, free bool) (steady, bool) {
		var s []steady
		for _, c := range list {
			if x := steadyOf(c); c.Free == free && x.high > x.low && !c.endsUnsure() {
				s = append(s, x)
			}
		}
		if len(s) == 0 {
			return steady{}, false
		}
		return joinSteady(s), true
	}
	for _, free := range []bool{false, true} {
		b, ok1 := pick(before, free)
		a, ok2 := pick(after, free)
		if !ok1 || !ok2 || a.c.Unit != b.c.Unit {
			continue
		}
		ratio := (b.high - b.low) / (a.high - a.low)
		var speeds []float64
		band := Interval{0, math.Inf(1)}
		for d := range a.sweeps {
			if len(a.sweeps[d]) > 0 && len(b.sweeps[d]) > 0 {
				var s float64
				s, band = speedRatio(a.c, b.c, a.sweeps[d], b.sweeps[d])
				speeds = append(speeds, s) // of before over after, by time
			}
		}
		speed := mean(speeds)
		scaled := r.rescaled(b, a, speed, band)
		switch {
		case scaled != "":
			// The reading's scale changed, and no travel.
			if ratio < 1-repairSpan {
				r.gone(b.c, SpanShift, "Before, "+scaled, stallsAt(b.c), stallsAt(a.c))
			}
		case ratio < 1-repairSpan:
			r.gone(b.c, Jam, fmt.Sprintf("Before, the travel ended at %.0f %% of what it is now.", 100*ratio), stallsAt(b.c), stallsAt(a.c))
		case (ratio > 1+repairSpan || speed > band.To) && loadWasLost(before):
			// The door hangs on it again: it drags, and its stops are back.
		case ratio > 1+repairSpan:
			r.worse(a.c, Jam, fmt.Sprintf("The travel ends at %.0f %% of what it was before the repair.", 100/ratio), shown{.03, .06, .03, .3, .02},
				"the same actuator reached further before: something is in the way now, or it was put together otherwise")
		case speed < band.From && r.slowedByPlace(): // the pace of whole sweeps tells it again
		case speed < band.From && len(r.Findings) > 0 && !b.c.slowed(2):
			// A complaint was found, and no slowness: that is the difference only.
			r.Differs = append(r.Differs, fmt.Sprintf("before, it ran at %.0f %% of the speed that it has now", 100*speed))
		case speed < band.From: // not for NaN
			r.gone(b.c, WeakDrive, fmt.Sprintf("Before, it ran at %.0f %% of the speed that it has now.", 100*speed), sweepsOf(b), sweepsOf(a))
		case speed > band.To:
			r.worse(a.c, WeakDrive, fmt.Sprintf("It runs at %.0f %% of the speed that it had before the repair.", 100/speed), shown{.03, .01, .2, .25, .04},
				"the same actuator ran faster before at the same drive: it drags now, or its motor is weaker")
		}
	}
}

// loadWasLost tells whether the door came off in a capture.
func loadWasLost(list []*Capture) bool {
	return slices.ContainsFunc(list, func(c *Capture) bool {
		return slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == LoadLost && f.force() > math.Log(3) })
	})
}

// slowedByPlace tells whether what was found before makes sweeps slow without a weak motor.
func (r *Repair) slowedByPlace() bool {
	return slices.ContainsFunc(r.Findings, func(f Repaired) bool {
		return f.Finding == SlowZone || f.Finding == StickSlip || f.Finding == Pauses
	})
}

// endsUnsure tells whether findings say that the reading at the stops is not
// the shaft's: then the stops say nothing of the travel.
func (c *Capture) endsUnsure() bool {
	for i := range c.Findings {
		switch f := &c.Findings[i]; f.Kind {
		case EndLoss, SpanDrift, SpanShift, RefLoss, DriveShift, LastingLeap, AtRail:
			return true
		case Broken:
			// A motor without current stands anywhere, and that is no stop.
			if f.force() > math.Log(3) {
				return true
			}
		case Dropouts:
			// Again and again at rest: what is read at a stop may be a loss.
			if n, _ := f.Measure(MeasureAtRest); n >= 3 {
				return true
			}
		case DeadSpot, NoisyTrack:
			if f.Percent.From < 10 || f.Percent.To > 90 {
				return true
			}
		}
	}
	return false
}

// worse adds something that is wrong now and was not before.
func (r *Repair) worse(a *Capture, k Kind, text string, p shown, because string) {
	r.New = append(r.New, RepairedNew{a.Source, k, text})
	r.asides = append(r.asides, newAside(k, p, 0.9, text, because))
}

// gone adds something that was wrong in each of seen tries and in none of the
// tries after, unless a finding says so already.
func (r *Repair) gone(b *Capture, k Kind, text string, seen, after int) {
	for _, f := range r.Findings {
		if f.Finding == k {
			return
		}
	}
	group := -1 // of its own
	for _, f := range r.Findings {
		group = min(group, f.group-1)
	}
	f := Repaired{group: group, Capture: b.Source, Finding: k, Text: text, Seen: seen, Of: seen, After: after, Missed: bodyMissed(seen, seen, after)}
	unit := "arrivals at the stops"
	if k == WeakDrive {
		unit = "full sweeps"
	}
	f.State, f.Because = "gone", goneText(seen, seen, after, unit, f.Missed)
	if f.Missed > repairLimit {
		f.State = "not seen"
		f.Because = fmt.Sprintf("%s: chance of having missed it %s; %s without it would prove the repair", k, ChanceText(f.Missed), moreOf(float64(bodyPassesFor(seen, seen, repairLimit)-after), unit))
	}
	r.Findings = append(r.Findings, f)
}

func stallsAt(c *Capture) int {
	n := 0
	for _, s := range c.Stops {
		if s.Extreme {
			n = max(n, s.Stalls)
		}
	}
	return n
}

func sweepsOf(s steady) int { return len(s.sweeps[0]) + len(s.sweeps[1]) }
