package analyze

import "math"

// noteVolts adds to f, a gain of speed, whether the motor's volts are known on both sides of
// the moment: not where only the drive's polarity was logged. A supply logged beside it that
// stayed leaves but a control that drives at another duty from that moment on.
func (w *work) noteVolts(f *Finding, gain float64) {
	switch {
	case w.driveKnown():
	case w.supplyKept(f.Time, gain):
		f.Measures = append(f.Measures, Measure{supplyStayed, 1, ""})
	default:
		f.Measures = append(f.Measures, Measure{driveUnknown, 1, ""})
	}
}

// supplyKept tells whether the supply of the moves after when exceeds that of the moves before
// it by too little to explain the gain of speed (0.4: 40 % faster). A motor that needs a third
// of its volts to turn at all gains 1.5 times what its supply gains, see [loadStep.atOtherVolts];
// what explains less than a fifth of the gain does not count, as in [stays].
func (w *work) supplyKept(when Interval, gain float64) bool {
	var volts [2][]float64
	for k := range w.moves {
		m := &w.moves[k]
		v, n := w.meanSupply(m.first, m.last)
		if n == 0 || v < lowestSupply {
			continue
		}
		if m.Time.To <= when.To {
			volts[0] = append(volts[0], v)
		}
		if m.Time.From >= when.From {
			volts[1] = append(volts[1], v)
		}
	}
	if len(volts[0]) == 0 || len(volts[1]) == 0 {
		return false
	}
	lowest, highest := math.Inf(1), 0.0
	for _, v := range volts[0] {
		lowest = math.Min(lowest, v)
	}
	for _, v := range volts[1] {
		highest = math.Max(highest, v)
	}
	const perVolt = 1.5
	return perVolt*(highest/lowest-1) < gain/stays
}
