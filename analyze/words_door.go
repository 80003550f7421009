package analyze

import (
	"fmt"
	"math"
	"strings"
)

// What a finding about the door mechanism and the travel says of itself.

func (w *work) titleTravelChange(f *Finding) string {
	return "Travel changes: " + w.driftWords(f) + ", and the transit time changes with it."
}

func (w *work) titleJam(f *Finding, t told) string {
	n := timesText(max(1, f.Seen))
	if strings.HasPrefix(f.Form, jamShortOfProfile) {
		return w.profileJamTitle(f)
	}
	if f.Form == jamStopLost {
		return fmt.Sprintf("Stop comes nearer: near %.0f s the end of the travel going %s moves inward by %s and stays.", f.Time.Mid(), f.Direction, amount(math.Abs(f.value(MeasureHighEndStep)+f.value(MeasureLowEndStep)), t.unit))
	}
	if strings.HasPrefix(f.Form, jamFarInside) || strings.HasPrefix(f.Form, jamDriven) || strings.HasPrefix(f.Form, jamShortOfProfile) {
		// Two supplies are near: it is the sensor's that is meant.
		how := strings.Replace(f.Form, jamFarInside, "far inside the sensor's range", 1)
		if all := len(f.Places); f.Form == wantsOn && all > f.Seen {
			n, how = timesText(all), fmt.Sprintf("%d of them driven into again, though it rests there", f.Seen)
		}
		return fmt.Sprintf("Stall %s going %s, %s: %s.", t.band, f.Direction, n, how)
	}
	tries := ""
	if k := int(f.value(triesFromThere)); k > 0 {
		tries = fmt.Sprintf("; driven on from there %s, it came no further", timesText(k))
	}
	return fmt.Sprintf("Stall short of the stop %s%s going %s, %s%s%s.", t.band, t.percent, f.Direction, n, w.atOnePlace(f), tries)
}

func (f *Finding) titleSlowZone(t told) string {
	if f.has(currentBeside) {
		speed := standsAndGoes
		if f.Form != standsAndGoes {
			speed = fmt.Sprintf("%.0f %% of the speed elsewhere", 100*f.value(MeasureSpeedThere))
		}
		return fmt.Sprintf("Slow %s%s: %s%s%s, at %.0f %% of the motor current beside that place.", t.band, t.percent, speed, t.passes, t.way, 100*f.value(currentBeside))
	}
	if places := f.placesText(t.unit); f.Form == standsAndGoes && places != "" {
		return fmt.Sprintf("Catches at %s%s: stands up to %.2f s and goes on%s%s.", places, t.percent, f.value(MeasureLongestStand), t.passes, t.way)
	}
	if f.Form == standsAndGoes {
		return fmt.Sprintf("Catches %s%s: stands up to %.2f s and goes on%s%s.", t.band, t.percent, f.value(MeasureLongestStand), t.passes, t.way)
	}
	if f.Form == clingsAtStop {
		return fmt.Sprintf("Held on leaving the stop at %s: driven %s it stands for up to %.2f s with its motor held, then goes on, %d of %s.", amount(f.value(stopLevel), t.unit), f.Direction, f.value(MeasureLongestStand), f.Seen, counted(f.Passes, "time"))
	}
	if f.Form == intoOneStop {
		s := fmt.Sprintf("Slow into the stop going %s, %s%s: %.0f %% of the speed elsewhere%s; into the other stop %.0f %%", f.Direction, t.band, t.percent, 100*f.value(MeasureSpeedThere), t.passes, 100*f.value(atOtherStop))
		if share, ok := f.Measure(pressesThere); ok {
			s += fmt.Sprintf("; by its current, the last of the way takes %.0f %% of the torque that the motor has to spare", 100*math.Min(1, share))
		}
		return s + "."
	}
	return fmt.Sprintf("Slow %s%s: %.0f %% of the speed elsewhere%s%s.", t.band, t.percent, 100*f.value(MeasureSpeedThere), t.passes, t.way)
}

func (f *Finding) titleStickSlip(t told) string {
	if f.Form == inSawTeeth {
		return fmt.Sprintf("Stick-slip: the load builds up and lets go all along the way, %d times, every %s: the current climbs slowly and falls at once, and the shaft slows as it climbs.", f.Seen, amount(f.value(MeasureSpacing), t.unit))
	}
	if v, ok := f.Measure(swingOfSpeed); ok {
		return fmt.Sprintf("Stick-slip: the speed swings by %.0f %% either way all along the way, every %s, at no fixed places.", v, amount(f.value(MeasureSpacing), t.unit))
	}
	if v, ok := f.Measure(MeasureScatterOfSteps); ok {
		s := fmt.Sprintf("Stick-slip: it moves in little jumps all along the way, in %d of %s: its steps from row to row scatter %.1f times as widely as noise alone does, and lean forward", f.Seen, counted(f.Passes, "stretch"), v)
		if p, ok := f.Measure(MeasureNoiseChance); ok {
			s += " (" + oddsText(p) + ")"
		}
		return s + "."
	}
	return fmt.Sprintf("Stick-slip: %s in %s, up to %.2f s.", counted(f.Seen, "stand"), counted(f.Passes, "move"), f.value(MeasureLongestStand))
}

func (f *Finding) titleLoadLost(t told) string {
	if f.Form == passesStops {
		return fmt.Sprintf("Between %.1f s and %.1f s both stops move outward, by %s and %s, and stay there: the door no longer holds it.", f.Time.From, f.Time.To, amount(f.value(MeasureLowStopPassed), t.unit), amount(f.value(MeasureHighStopPassed), t.unit))
	}
	ways := "both ways"
	if f.Direction != None {
		ways = "going " + f.Direction.String()
	}
	faster := fmt.Sprintf("%.0f %% faster %s", f.value(MeasureGainOfSpeed), ways)
	by := fmt.Sprintf("by %.0f %% %s", f.value(MeasureGainOfSpeed), ways)
	if up, ok := f.Measure(MeasureGainUp); ok && f.Direction == None {
		down := f.value(MeasureGainDown)
		faster = fmt.Sprintf("faster, by %.0f %% going up and by %.0f %% going down,", up, down)
		by = fmt.Sprintf("by %.0f %% going up and by %.0f %% going down", up, down)
	}
	s := fmt.Sprintf("Load lost near %.0f s: from then on it runs %s", f.Time.Mid(), faster)
	if f.Form == "" && f.Direction == None && f.has(currentAsBefore) {
		return fmt.Sprintf("Faster from about %.0f s on: %s, at the same current.", f.Time.Mid(), by)
	}
	if v, ok := f.Measure(MeasureCurrentFell); ok {
		s += fmt.Sprintf(" at %.0f %% less current", v)
	}
	if f.Form != "" {
		s += " " + f.Form + " than before"
	}
	return strings.TrimSuffix(s, ",") + "."
}
