package analyze

import (
	"fmt"
	"math"
)

// neverFull is the form of a drive that is far below the logged supply, always and either
// way.
const neverFull = "drive, never near the supply"

// findNeverFull reports a motor that gets less than half of a supply that was logged beside
// it, in every drive and either way, as one level without pulses: a bridge that is switched
// through loses a tenth (sagOfDrive), and half the volts is what a gear motor is not sure to
// start on (as in findOneWay). A control may make fewer volts of purpose, by pulses that the
// instrument averages, and a motor may be built for less: that one is too quick for its volts.
func (w *work) findNeverFull() {
	const part, even = 0.5, 0.1
	s := w.tr.Supply
	if s == nil || s.Unit != "V" || !w.driveKnown() || w.d.pulsed || w.sense == 0 || w.has(SupplySag) || w.builtForLess() {
		return
	}
	f := Finding{Kind: SupplySag, Form: neverFull, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "supply"}
	var seconds [2]float64
	var volts, supply []float64
	moved := false
	for k := range w.moves {
		m := &w.moves[k]
		if m.Duration() < 2*edgeOfDrive+0.2 {
			continue
		}
		a, b := indexAt(w.t, m.Time.From+edgeOfDrive), indexAt(w.t, m.Time.To-edgeOfDrive)
		if b-a < 3 {
			continue
		}
		on := thinned(w.d.mean[a:b], 2000)
		level, fed := math.Abs(medianOf(on)), medianOf32(s.Mean[a:b])
		if !(fed > lowestSupply) || level > part*fed || quantileOf(on, 0.9)-quantileOf(on, 0.1) > even*level {
			return
		}
		volts, supply = append(volts, level), append(supply, fed)
		p := 0
		if m.Polarity > 0 {
			p = 1
		}
		seconds[p] += m.Duration()
		moved = moved || m.Moving > 0
	}
	if !moved || seconds[0] < leastDriven || seconds[1] < leastDriven {
		return
	}
	level, fed := medianOf(volts), medianOf(supply)
	f.Seen, f.Passes, f.Strength = len(volts), len(volts), 0.9
	f.Measures = []Measure{{MeasureLevelUnderLoad, level, "V"}, {MeasureDropUnderLoad, 100 * (1 - level/fed), "%"}, {MeasureLevelBefore, fed, "V"}}
	w.found = append(w.found, f)
}

// edgeOfDrive is how long, in s, a start and an end of a drive take at most: the switch, the
// motor's inrush, and rows that lag.
const edgeOfDrive = 0.2

// titleNeverFull says what is left of the supply.
func (f *Finding) titleNeverFull() string {
	return fmt.Sprintf("The motor never gets more than %.1f V, either way, %.0f %% of the supply of %.1f V that was logged.", f.value(MeasureLevelUnderLoad), 100-f.value(MeasureDropUnderLoad), f.value(MeasureLevelBefore))
}
