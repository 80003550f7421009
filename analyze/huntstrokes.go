package analyze

import "math"

// The slowest loop that a control of such an actuator closes.
const (
	latestAnswer = 1.0  // s, from a reading to the answer: of one that looks once in a second (chosen, not derived)
	widestBand   = 0.03 // of the travel, to either side of its target, within which it rests (chosen, not derived)
)

// strokesOfALoop tells whether the drives of moves [i, j), which the reading follows, end
// as soon as a loop ends them. What integrates at a rate R and is driven by a relay with
// the hysteresis e and the dead time L goes to and fro on end, and takes 2 (L + e/R) from
// turn to turn (limit cycle of relay feedback, Åström and Hägglund 1984; its half period
// for an integrator). L is what a control takes to answer and a motor to turn over, e the
// band within which the control rests. A drive that the reading follows all along, and
// that moves it for longer, passes its target unheeded: it was sent somewhere, by a clock, a
// person or a control with another target each time, and seeks nothing.
func (w *work) strokesOfALoop(i, j int) bool {
	var took []float64
	for k := i + 1; k < j; k++ {
		took = append(took, w.moves[k].Moving)
	}
	band := widestBand * math.Min(longestSweep, w.transit())
	return medianOf(took) <= 2*(latestAnswer+turningTime+band)
}
