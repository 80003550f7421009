package analyze

import (
	"fmt"
	"math"
)

// What a finding about the motor and its gears says of itself.

func (f *Finding) titlePauses(t told) string {
	if f.has(pushesThere) {
		return fmt.Sprintf("Held near %s: %s one after the other pressed it on a little and it sprang back, where other drives passed.", amount(f.Volts.Mid(), t.unit), counted(f.Seen, "drive"))
	}
	if f.Form == doesNotStart {
		how := "moved nothing"
		if f.has(startedLate) {
			how = "moved nothing or stood at first"
		}
		if f.has(heldAtStall) {
			how += " at stall current"
		}
		if f.has(drawsNothing) {
			how += " and drew no current"
		}
		s := fmt.Sprintf("Does not start: %s %s, for up to %.2f s, at places from which other drives moved on", counted(f.Seen, "drive"), how, f.value(MeasureLongestStand))
		if n, ok := f.Measure(idleAtStop); ok {
			s += fmt.Sprintf("; %s drew none either (there a stop may have held the shaft)", counted(int(n), "more drive"))
		}
		return s + "."
	}
	if f.Seen == 1 {
		return fmt.Sprintf("Stands under drive once, for %.2f s.", f.value(MeasureLongestStand))
	}
	return fmt.Sprintf("Stands under drive %s at places that do not repeat, up to %.2f s.", timesText(f.Seen), f.value(MeasureLongestStand))
}

func (f *Finding) titleWeakDrive() string {
	if v, ok := f.Measure(MeasureSpeedOverGood); ok {
		return fmt.Sprintf("Slow everywhere: %.0f %% of the known good speed.", 100*v)
	}
	if f.has(travelGuessed) {
		return fmt.Sprintf("Slow everywhere: at this speed a usual travel takes about %.0f s.", f.value(MeasureTravelTime))
	}
	return fmt.Sprintf("Slow everywhere: %.0f s for the travel.", f.value(MeasureTravelTime))
}

func (f *Finding) titleHeating(t told) string {
	head := "Slower from pass to pass at the same drive"
	if f.Form == inFewSweeps {
		head = "Slower the longer it runs, at the same drive"
	}
	if f.Form == voltsUnseen {
		head = "Slower from pass to pass, its volts not logged"
	}
	if last, ok := f.Measure(lastPassTook); ok {
		from, to := f.value(timedFrom), f.value(timedTo)
		way, other := Up, Down
		if from > to {
			way, other = Down, Up
		}
		s := fmt.Sprintf("%s: from %s %s to %s the last pass takes %.1f s where the first took %.1f s", head,
			amount(from, t.unit), way, amount(to, t.unit), last, f.value(firstPassTook))
		if back, ok := f.Measure(lastPassBack); ok {
			s += fmt.Sprintf(", %s again %.1f s where it took %.1f s", other, back, f.value(firstPassBack))
		}
		return s + fmt.Sprintf(" (%s compared, whole or in part).", counted(f.Seen, "pass"))
	}
	return fmt.Sprintf("%s: after %s it runs at %.0f %% of the speed it began with.", head, counted(f.Seen, "pass"), 100+f.value(changeOfSpeed))
}

func (w *work) titleGearSlip(f *Finding, t told) string {
	if f.Form == motorTurns {
		return fmt.Sprintf("Stands %s%s going %s, %s, while the current says that the motor turns.", t.band, t.percent, f.Direction, timesText(f.Seen))
	}
	if f.Form == turnsAndGoesOn {
		return fmt.Sprintf("Waits %s%s %s, at %.0f %% of the current it draws beside that place: the motor turns and the shaft does not.", t.band, t.percent, timesText(f.Seen), 100*f.value(currentBeside))
	}
	if f.Form == waitsAlike {
		s := fmt.Sprintf("Falls behind by %s %s%s in %d of %s, by as much each time, and goes on from there at its usual pace", amount(f.value(MeasureTravelLost), t.unit), t.band, t.percent, f.Seen, counted(f.Passes, "pass"))
		if v, ok := f.Measure(currentBeside); ok {
			s += fmt.Sprintf(", at %.0f %% of the current beside that place", 100*v)
		}
		return s + "."
	}
	s := fmt.Sprintf("Gear slip: the reading falls back %s by about %s under constant drive", timesText(f.Seen), amount(f.value(MeasureSize), t.unit))
	if v, ok := f.Measure(MeasureSlipRate); ok {
		pace := fmt.Sprintf("%.1f", v)
		if up, ok := f.Measure(MeasureSlipRateUp); ok {
			down := f.value(MeasureSlipRateDown)
			if a, b := fmt.Sprintf("%.1f", math.Min(up, down)), fmt.Sprintf("%.1f", math.Max(up, down)); a != b {
				pace = a + " to " + b
			} else {
				pace = a
			}
		}
		s += fmt.Sprintf(", %s times a second", pace)
	}
	if w.atBothEnds(f) {
		return s + ", at both ends of the travel, where the stops load the gears most."
	}
	return s + ", " + f.Form + "."
}

// onlyAtEnds is the measure of a finding of which that holds.
const onlyAtEnds = "at both ends and hardly in between"

// atBothEnds tells whether the places of a finding lie at either end of the travel and
// hardly any in between: their middle says nothing then.
func (w *work) atBothEnds(f *Finding) bool {
	const outer, most = 0.2, 0.9 // the outer fifths are the ends, as for hunting
	span := w.span.Width()
	low, high := 0, 0
	for _, p := range f.Places {
		switch at := (p.Volts.Mid() - w.span.From) / span; {
		case at < outer:
			low++
		case at > 1-outer:
			high++
		}
	}
	return span > 0 && low > 0 && high > 0 && float64(low+high) >= most*float64(len(f.Places))
}

func (f *Finding) titleHeavyDrag() string {
	return fmt.Sprintf("Running, the motor draws %.0f %% of what it draws at the stops, where it is held.", 100*f.value(torqueShare))
}

func (f *Finding) titleFeedResists() string {
	when := "From"
	if f.Form == resistanceGoes {
		when = "Up to"
	}
	volts := " at the same volts"
	if f.has(driveUnknown) {
		volts = ""
	}
	return fmt.Sprintf("%s %.1f s the motor, held at a stop, draws %.0f %% of what it drew at other times%s; while it runs, %.0f %%.", when, f.value(changesAt), 100*f.value(MeasureHeldCurrentSpread), volts, 100*f.value(MeasureRunningCurrentSpread))
}
