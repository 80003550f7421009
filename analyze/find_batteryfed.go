package analyze

import "math"

// batteryFed is the form of a reference that is the battery's.
const batteryFed = "as high as the battery"

// findBatteryFed reports a sensor whose reference wire carries the battery's volts: it
// equals the supply that was logged beside it, above what any regulator for a sensor gives
// (5 V, and up to 10 V in a few: common practice, no source), and the reading itself goes
// beyond that of a sensor so fed, so it is no clip on the wrong wire. Some sensors are made
// for it, and a bench may feed all from one supply: who knows that says so by the
// reference's volts.
func (w *work) findBatteryFed() {
	const (
		mostRegulated = 10.5 // V
		alike         = 0.03 // what two channels are off by (common practice, no source)
	)
	r, s := w.tr.Reference, w.tr.Supply
	if r == nil || s == nil || r.Unit != "V" || s.Unit != "V" || w.opt.ReferenceTold || !w.refMeasured() {
		return
	}
	m, battery := w.usualReference(), medianOf32(s.Mean)
	if !(m > mostRegulated) || !(math.Abs(m-battery) < alike*battery) || quantileOf(w.v, 0.95) < beyondSupply*w.opt.ReferenceVolts {
		return
	}
	for _, f := range w.found {
		if f.Kind == RefLoss {
			return // it comes and goes, which says more
		}
	}
	w.found = append(w.found, Finding{Kind: RefLoss, Form: batteryFed, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1, Event: "reference",
		Strength: 1, Seen: 1, Passes: 1, Measures: []Measure{{MeasureLevel, m, "V"}, {MeasureSupply, battery, "V"}}})
}
