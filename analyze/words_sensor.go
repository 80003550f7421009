package analyze

import (
	"fmt"
	"strings"
)

// What a finding about the feedback sensor says of itself.

func (f *Finding) titleDeadSpot(t told) string {
	if f.Form == railToRail {
		return fmt.Sprintf("Track broken: driven past one place the reading goes from rail to rail, %s, and back when driven back.", timesText(int(f.value(MeasureLeaps))))
	}
	if f.Form == lostAtStop {
		return f.titleLostAtStop(t)
	}
	if f.Form == thrownAtEnd {
		return f.titleThrownAtEnd(t)
	}
	if f.Form == openBeyond {
		driven := "one way"
		if f.Direction != None {
			driven = f.Direction.String()
		}
		return fmt.Sprintf("Track open beyond %s: driven %s past it the reading leaps away, driven back it returns, %s, %s at rest.", amount(f.value(MeasureEdge), t.unit), driven, counted(int(f.value(MeasureLeaps)), "leap"), orNone(f.value(MeasureLeapsAtRest)))
	}
	if f.Form == openBetween {
		return fmt.Sprintf("Dead spot %s%s: the track is open there; driven into it from either side the reading leaps away, driven out it returns, %s.", t.band, t.percent, counted(int(f.value(MeasureLeaps)), "leap"))
	}
	how := "the reading holds and then jumps"
	if f.Form == openTrack {
		how = "the reading leaves the track and comes back further on"
	}
	return "Dead spot " + t.band + t.percent + ": " + how + t.passes + t.way + "."
}

func (f *Finding) titleNoisyTrack(t told) string {
	if f.Form == noisyBeyond {
		return f.beyondTitle(amount(f.value(MeasureEdge), t.unit), t.band)
	}
	if f.Form == noisyStretch {
		return f.stretchTitle(t.band)
	}
	if f.Form == roughOneWay {
		return f.oneWayRoughTitle(t.band, t.unit)
	}
	if f.Form == roughEverywhere {
		if off := f.value(MeasureOneInHundredOff); f.has(offBothWays) {
			return fmt.Sprintf("Noisy reading all along: while the shaft moves one in a hundred is off by %s or more, to either side, where it stands none is.", amount(off, t.unit))
		} else if off > 5*f.value(MeasureScatterMoving) {
			return fmt.Sprintf("Noisy track all along: while the shaft moves one reading in a hundred is off by %s or more, where it stands none is.", amount(off, t.unit))
		}
		return fmt.Sprintf("Noisy track all along: while the shaft moves the reading scatters by %s, where it stands by %s.", amount(f.value(MeasureScatterMoving), t.unit), amount(f.value(MeasureScatterAtRest), t.unit))
	}
	return fmt.Sprintf("Noisy track %s%s: %.0f times rougher than the rest%s.", t.band, t.percent, f.value(MeasureRoughnessOverRest), t.passes)
}

func (f *Finding) titleEndLoss(t told) string {
	arrivals := fmt.Sprintf("in %d of %d arrivals", f.Seen, f.Passes)
	if f.Passes == 1 {
		arrivals = "in the only arrival"
	}
	return fmt.Sprintf("Track lost %s near %s: the reading stops %s before the shaft does, %s.", f.Form, amount(f.Volts.Mid(), t.unit), amount(f.value(MeasureHiddenTravel), t.unit), arrivals)
}

func (w *work) titleSpanDrift(f *Finding) string {
	if f.Form == byTravelTime {
		return fmt.Sprintf("The sensor's scale changes: strokes that take as long as one another differ by up to %.0f %% in what they read.", f.value(MeasureChangeOfSpan))
	}
	if f.Form == byRests {
		return fmt.Sprintf("The sensor's scale shrinks, by %.0f %% in %.0f s: the reading creeps towards %s in %s without drive, and the passes read slower.", f.value(MeasureChangeOfSpan), f.Time.Width(), amount(f.value(towards), w.unit()), counted(f.Seen, "rest"))
	}
	if f.Form == byStands {
		return w.titleCreep(f)
	}
	if f.Form == byPace {
		return fmt.Sprintf("The sensor's scale changes: the stops read up to %.0f %% further apart at one time than at another, and the reading goes as much faster between them, both ways.", f.value(MeasureChangeOfSpan))
	}
	return "Feedback span drifts: " + w.driftWords(f) + "."
}

func (f *Finding) titleBentLine(t told) string {
	if f.Form == bentLoaded {
		return f.titleLoaded(t)
	}
	return fmt.Sprintf("The line bends: the reading moves at %.0f %% of its speed elsewhere %s%s, gradually and alike both ways.", 100*f.value(MeasureSpeedThere), t.band, t.percent)
}

func (f *Finding) titleAtRail(t told) string {
	if f.Form == crushed {
		return fmt.Sprintf("Feedback from %s to %s only, next to a rail, however it is driven.", amount(f.Volts.From, t.unit), amount(f.Volts.To, t.unit))
	}
	if strings.HasPrefix(f.Form, aboveSupply) {
		level := amount(f.value(MeasureLevel), t.unit)
		if f.has(channelEnds) {
			level += " or more"
		}
		return fmt.Sprintf("Feedback reads %s, above what its supply can give, for up to %.1f s at a time, %.0f %% of the capture in all.", level, f.value(MeasureLongest), f.value(MeasureShareOfCapture))
	}
	rail, always := strings.CutSuffix(f.Form, allTheTime)
	level := f.Volts.From
	if rail == "high" {
		level = f.Volts.To
	}
	if v, ok := f.Measure(MeasureLevel); ok {
		level = v
	}
	stands := amount(level, t.unit)
	if v, ok := f.Measure(assumedSupply); ok {
		stands += fmt.Sprintf(", next to the assumed %g V", v)
	}
	if always {
		return fmt.Sprintf("Feedback at the %s rail (%s) all the time.", rail, stands)
	}
	return fmt.Sprintf("Feedback at the %s rail (%s), for up to %.1f s at a time, %.0f %% of the capture in all.", rail, stands, f.value(MeasureLongest), f.value(MeasureShareOfCapture))
}

func (f *Finding) titleDropouts() string {
	moving, rest := f.value(MeasureWhileMoving), f.value(MeasureAtRest)
	how := fmt.Sprintf("%s while the shaft moves, %s while it stands", orNone(moving), orNone(rest))
	if n, ok := f.Measure(atDriveStart); ok {
		how = fmt.Sprintf("%.0f as the drive sets out, %s at rest", n, orNone(rest))
	}
	if n, ok := f.Measure(lossesInAll); ok {
		return fmt.Sprintf("Signal drop-outs: %.0f in all. Of the %.0f that can be told apart, %s.", n, moving+rest, how)
	}
	return fmt.Sprintf("Signal drop-outs, %.0f: %s.", moving+rest, how)
}

func (f *Finding) titleLastingLeap(t told) string {
	if f.Form == leapUnseen {
		return fmt.Sprintf("Between %.1f s and %.1f s both stops shift by the same, %s.", f.Time.From, f.Time.To, amount(f.value(MeasureStep), t.unit))
	}
	if f.Form == leapStood {
		return fmt.Sprintf("The reading stands under drive %s, and both stops shift by about the way the shaft makes meanwhile: it goes on.", timesText(f.Seen))
	}
	if f.has(stopsMoved) {
		return fmt.Sprintf("At %.1f s the reading leaps from %s to %s in an instant, and so do the stops from then on.", f.Time.From, amount(f.value(MeasureFrom), t.unit), amount(f.value(MeasureTo), t.unit))
	}
	return fmt.Sprintf("At %.1f s the reading leaps from %s to %s in an instant %s.", f.Time.From, amount(f.value(MeasureFrom), t.unit), amount(f.value(MeasureTo), t.unit), f.Form)
}

func (f *Finding) titleNotAPot() string {
	return fmt.Sprintf("The feedback wire carries pulses (%.0f changes a second), not a position voltage.", f.value(MeasureChanges))
}
