package analyze

import (
	"fmt"
	"strings"
)

// What a finding about the drive, the wiring and the control says of itself.

func (f *Finding) titleHunting(t told) string {
	if f.has(doesNotAnswer) {
		return fmt.Sprintf("Driven to and fro, %s from %.1f to %.1f s, %.2g Hz, and the reading does not answer.", counted(f.Seen, "reversal"), f.Time.From, f.Time.To, f.value(MeasureFrequency))
	}
	return fmt.Sprintf("Hunting %s: %s from %.1f to %.1f s, %.2g Hz, %s peak to peak.", f.Form, counted(f.Seen, "reversal"), f.Time.From, f.Time.To, f.value(MeasureFrequency), amount(f.value(MeasureAmplitude), t.unit))
}

func (f *Finding) titleOneWay(t told) string {
	if f.Form != "" {
		return fmt.Sprintf("Driven one way only: going %s the motor gets %.1f V, the other way %.1f V.", f.Direction, f.value(MeasureDriveThatWay), f.value(MeasureDriveOtherWay))
	}
	return fmt.Sprintf("Moves one way only: %s going %s moved nothing, the other way it runs.", counted(f.Seen, "drive"), f.Direction)
}

func (f *Finding) titleNoMotion(t told) string {
	if f.has(movedUntil) {
		return f.titleNoMotionSince()
	}
	if f.Form == readsNoise {
		return fmt.Sprintf("No position: driven for %.1f s and at rest, the reading swings by up to %s as noise or hum does.", f.value(MeasureDriven), amount(f.value(MeasureLargestChange), t.unit))
	}
	s := fmt.Sprintf("No motion: driven for %.1f s, the reading did not change", f.value(MeasureDriven))
	if change := amount(f.value(MeasureLargestChange), t.unit); strings.ContainsAny(change, "123456789") {
		s = fmt.Sprintf("No motion: driven for %.1f s, the reading changed by no more than %s", f.value(MeasureDriven), change)
	}
	if f.Form != "" {
		s += " (" + f.Form + ")"
	}
	return s + "."
}

func (f *Finding) titleNoDrive() string {
	if f.Form == wokenUp {
		return fmt.Sprintf("No drive: the power came on at %.1f s, and in the %.0f s after it the motor was never driven.", f.value(MeasurePowerCameOn), f.Time.To-f.value(MeasurePowerCameOn))
	}
	return "No drive: the motor was never driven in this capture."
}

// furthestLevel is the measure of the level a disturbed reference is furthest at.
const furthestLevel = "furthest level"

func (w *work) titleRefLoss(f *Finding) string {
	if f.Form == wanders {
		return fmt.Sprintf("Reference wanders slowly, between %s and %s.", amount(f.value(MeasureLevel), w.referenceUnit()), amount(f.value(MeasureHighestLevel), w.referenceUnit()))
	}
	if f.Form == sinks {
		return fmt.Sprintf("Reference sinks slowly, by %.0f %%, from %s to %s.", f.value(MeasureLargestDeviation), amount(f.value(MeasureHighestLevel), w.referenceUnit()), amount(f.value(MeasureLevel), w.referenceUnit()))
	}
	if f.Form == refAbsent {
		return fmt.Sprintf("Reference absent: %.2f V, so the sensor has no supply.", f.value(MeasureLevel))
	}
	if f.Form == batteryFed {
		return fmt.Sprintf("Reference as high as the battery: %.1f V beside a supply of %.1f V, and the reading with it.", f.value(MeasureLevel), f.value(MeasureSupply))
	}
	if f.Form == lowLevel {
		return fmt.Sprintf("Reference low: %.2f V, %.0f %% below its nominal.", f.value(MeasureLevel), f.value(MeasureLargestDeviation))
	}
	if f.Form == fromThenOn {
		return fmt.Sprintf("From %.1f s on the reference is at %s, up to %.0f %% off the %s before.", f.Time.From, amount(f.value(MeasureLevel), w.referenceUnit()), f.value(MeasureLargestDeviation), amount(f.value(MeasureLevelBefore), w.referenceUnit()))
	}
	if level, ok := f.Measure(furthestLevel); ok {
		u := w.referenceUnit()
		return fmt.Sprintf("Reference disturbed %s: it leaves its usual %s, at worst for %s (%.0f %% off).", timesText(f.Seen), amount(f.value(MeasureUsualLevel), u), amount(level, u), f.value(MeasureLargestDeviation))
	}
	return fmt.Sprintf("Reference disturbed %s, at worst %.0f %% off its usual level.", timesText(f.Seen), f.value(MeasureLargestDeviation))
}

func (f *Finding) titleSupplySag() string {
	if f.Form == shorted {
		return fmt.Sprintf("The drive breaks down %s: %.2f A at only %.1f V, as through %.1f ohm.", timesText(f.Seen), f.value(MeasureCurrent), f.value(MeasureDriveMeanwhile), f.value(MeasureResistance))
	}
	switch f.Form {
	case triesByClock:
		return fmt.Sprintf("The drive is given up and tried again by a clock, for moments and at a part of its volts, in %s.", counted(f.Seen, "bout"))
	case onePolarity:
		return f.unevenTitle()
	case hardlyAnyLeft:
		return f.faintAfterTitle()
	case sagsWhileDriven:
		return f.sagsDrivenTitle()
	case lowerFromThenOn:
		return f.titleLowerFromThenOn()
	case runsDown:
		return f.runsDownTitle()
	case neverFull:
		return f.titleNeverFull()
	}
	return f.supplyTitle(f.value(MeasureLevelUnderLoad), f.value(MeasureDropUnderLoad))
}

func (f *Finding) titleSelfMotion(t told) string {
	if f.Form == againstDrive {
		return fmt.Sprintf("The reading goes back by up to %s against a full drive, little by little, %s.", amount(f.value(wentBack), t.unit), timesText(f.Seen))
	}
	return fmt.Sprintf("The reading travels by up to %s while no drive is seen, %s.", amount(f.value(longestUndriven), t.unit), timesText(f.Seen))
}
