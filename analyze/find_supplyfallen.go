package analyze

import (
	"fmt"
	"math"
)

// supplyFallen is the form of a logged supply that falls once and does not come back.
const supplyFallen = "supply, from one moment on"

// findSupplyFallen reports a logged supply that falls by more than a quarter, to less than
// a battery has, takes the motor's volts with it and does not come back in the capture. An
// engine is cranked for ten seconds at the longest (the starting profile of ISO 16750-2,
// from memory); a generator that stops leaves its battery, from 14.4 V a flat one's 11.6 V,
// a fifth less; and what the motor's own current takes comes back with every rest. It is
// looked for before the supply under load, whose level at rest is none here; it tells
// whether it was found.
func (w *work) findSupplyFallen() bool {
	const (
		least  = 0.25 // of the volts
		stays  = 10   // s
		before = 1    // s
	)
	s := w.tr.Supply
	if s == nil || s.Unit != "V" || !w.driveKnown() {
		return false
	}
	at, level, _ := w.supplyLevels()
	// The most that it has from each block on: where it has fallen for good, all of it is low.
	most := make([]float64, len(level)+1)
	for i := len(level) - 1; i >= 0; i-- {
		most[i] = math.Max(most[i+1], level[i])
	}
	fell, had := 0, math.Inf(1) // block from which on it stays low; V before it, the least
	for i := range level {
		if i > 0 && most[i] < (1-least)*had {
			fell = i
			break
		}
		// While it falls it is neither high nor low.
		if level[i] > (1-least/2)*level[0] {
			had = math.Min(had, level[i])
		}
	}
	end := w.t[len(w.t)-1]
	if fell == 0 || w.t[at[fell]]-w.t[0] < before || end-w.t[at[fell]] < stays {
		return false
	}
	after := medianOf(level[fell:])
	full := medianOf(level[:fell])
	place := Occurrence{Time: Interval{w.t[at[fell]], end}, Volts: w.span}
	drop := 1 - after/full
	if after > emptyBattery || drop < least || !w.driveFallsWith([]Occurrence{place}, drop) {
		return false
	}
	seen := 0
	for k := range w.moves {
		if w.moves[k].Time.From >= place.Time.From {
			seen++
		}
	}
	w.found = append(w.found, Finding{Kind: SupplySag, Form: supplyFallen, Tie: TiedToTime, TieP: 1, Event: "supply", Time: place.Time, Places: []Occurrence{place},
		Seen: seen, Passes: seen, Strength: 1 - math.Exp(-float64(seen)),
		Measures: []Measure{{MeasureLevelUnderLoad, after, "V"}, {MeasureDropUnderLoad, 100 * drop, "%"}, {MeasureLevelBefore, full, "V"}}})
	return true
}

// supplyFallenTitle says when and how far the supply falls.
func (f *Finding) supplyFallenTitle(level, drop float64) string {
	return fmt.Sprintf("The supply falls from %.1f to %.1f V, by %.0f %%, and has not come back %.0f s later.", f.value(MeasureLevelBefore), level, drop, f.Time.Width())
}
