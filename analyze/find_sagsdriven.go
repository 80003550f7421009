package analyze

import (
	"fmt"
	"math"
)

// sagsWhileDriven is the form of volts that go down for as long as the motor is driven,
// and are all there again at the next start.
const sagsWhileDriven = "drive, while it is driven"

// findSagsWhileDriven reports a drive that loses its volts bit by bit in every move, from
// its start on and on at the stop, and has them back after each rest: a supply or a contact
// that gives way to a current that lasts. A resistance would take its volts by the current,
// all at once at the stop; a control that slows down does so before its target and not
// from the start on; a battery that runs down does not come back.
func (w *work) findSagsWhileDriven() {
	const (
		few   = 3
		steps = 8    // parts of a move that are compared
		least = 1.0  // s
		early = 0.4  // of the fall, in the first half of the way: a ramp to a target lies in the last third
		back  = 0.05 // of the volts, from one start to the next: what a supply wavers by
	)
	if !w.driveKnown() || w.d.pulsed || w.slows > 0 || w.has(SupplySag) {
		return
	}
	seen, made := 0, 0
	var first, last, drops []float64
	for k := range w.moves {
		m := &w.moves[k]
		n := (m.last - m.first - w.rows(w.lim.StallSeconds)) / steps
		if m.Duration() < least || n < 3 {
			continue
		}
		made++
		var v [steps]float64
		for i := range v {
			a := m.first + w.rows(w.lim.StallSeconds) + i*n
			v[i] = math.Abs(medianOf(w.d.mean[a : a+n]))
		}
		fall := v[0] - v[steps-1]
		steady := fall > sagOfDrive/2*v[0] && v[0]-v[steps/2-1] > early*fall
		for i := 1; i < steps; i++ {
			// Neither up again nor half of it at once.
			if d := v[i-1] - v[i]; d < -0.1*fall || d > fall/2 {
				steady = false
			}
		}
		top := math.Abs(medianOf(w.d.mean[m.first+1 : m.first+1+n]))
		first = append(first, top)
		if steady {
			seen++
			last = append(last, v[steps-1])
			drops = append(drops, 1-v[steps-1]/math.Max(top, v[0]))
		}
	}
	if seen < few || seen < made {
		return
	}
	drop := medianOf(drops)
	if lo, hi := extremes(first); drop < sagOfDrive || lo < (1-back)*hi {
		return
	}
	w.found = append(w.found, Finding{Kind: SupplySag, Form: sagsWhileDriven, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "supply",
		Strength: math.Min(1, (drop-sagOfDrive)/0.1+0.5), Seen: seen, Passes: made,
		Measures: []Measure{{MeasureLevelUnderLoad, medianOf(last), "V"}, {MeasureDropUnderLoad, 100 * drop, "%"}}})
}

// sagsDrivenTitle says how far the volts go down in each move.
func (f *Finding) sagsDrivenTitle() string {
	return fmt.Sprintf("The drive's volts go down for as long as it is driven, to %.1f V, by %.0f %%, in each of %d moves, and are back at the next start.", f.value(MeasureLevelUnderLoad), f.value(MeasureDropUnderLoad), f.Passes)
}
