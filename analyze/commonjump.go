package analyze

import (
	"fmt"
	"math"

	"threewire/signal"
)

// withoutCommonJumps gives the trace without the rows, one or two at a time, in which the
// reading and the reference jump by the same volts and are back: the instrument's own
// ground moved, or its converter failed for a row. A reference that truly gives way takes
// a reading with it by the reading's share of it, which is less wherever a wiper stands.
func (w *work) withoutCommonJumps(t *signal.Trace) *signal.Trace {
	r := t.Reference
	if r == nil || r.Unit != "V" || t.Feedback.Unit != "V" || t.Len() < 16 {
		return t
	}
	v, ref := t.Feedback.Mean, r.Mean
	limits := [2]float64{w.jumpLimit(&t.Feedback), w.jumpLimit(r)}
	left := make([]bool, t.Len())
	jumps, worst, at := 0, 0.0, 0.0
	for i := 1; i < t.Len()-2; i++ {
		for n := 1; n <= 2 && i+n < t.Len(); n++ {
			var jump [2]float64
			back := true
			for k, x := range [][]float32{v, ref} {
				before, after := float64(x[i-1]), float64(x[i+n])
				jump[k] = float64(x[i]) - (before+after)/2
				back = back && math.Abs(after-before) < limits[k]
			}
			off := math.Abs(jump[0] - jump[1])
			share := math.Abs(jump[0] - jump[1]*float64(v[i-1])/float64(ref[i-1]))
			if !back || math.Abs(jump[1]) < 2*limits[1] || math.Abs(jump[0]) < 2*limits[0] || off > limits[0] || share < 2*limits[0] {
				continue
			}
			for k := range n {
				left[i+k] = true
			}
			jumps++
			if math.Abs(jump[1]) > math.Abs(worst) {
				worst, at = jump[1], t.Time[i]
			}
			i += n
			break
		}
	}
	if jumps == 0 || jumps > t.Len()/100 {
		return t
	}
	w.notes = append(w.notes, fmt.Sprintf("%s the reading and the reference jump by the same volts for a row and are back, at most by %.2f V at %.2f s: that is the instrument, and these rows were left out", timesText(jumps), worst, at))
	return t.Without(left)
}

// jumpLimit is the step from one row to the next, in V, that noise and the way of a motor
// do not make: the 95th percentile of such steps is 2.8 sigma of Gaussian noise.
func (w *work) jumpLimit(s *signal.Series) float64 {
	var steps []float64
	for i := 1; i < len(s.Mean); i++ {
		if d := math.Abs(float64(s.Mean[i] - s.Mean[i-1])); !math.IsNaN(d) {
			steps = append(steps, d)
		}
	}
	if len(steps) == 0 {
		return math.Inf(1)
	}
	return w.lim.NoiseSigmas*quantileOf(steps, 0.95)/2.8 + s.Stats.Quantum
}
