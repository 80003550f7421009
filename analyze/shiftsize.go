package analyze

import "math"

// groundDrop is the share of a sensor's supply that its ground may rise by while a motor
// stalls on it: 0.2 V of 5 V is what a ground may drop under load (common practice, no
// source). Less is there in sound harnesses that share it.
const groundDrop = 0.04

// tooMuchShift is how far a step of so many volts, at the current of a motor that
// starts or stalls, is more than a sound harness that shares its ground makes: from
// half of what is allowed on it counts.
func (w *work) tooMuchShift(step float64) float64 {
	return math.Max(0, math.Min(1, 2*step/(groundDrop*w.ref)-1))
}

// stepAtStall is the measure of a step at the current of a motor that stalls, or starts.
const stepAtStall = "step at a stall"

// stallOverRunning is how many times its running current a motor draws when it stalls,
// at the least (common practice, no source).
const stallOverRunning = 3

// atStall measures how large the steps are, or would be, while the motor stalls: as
// large as those when it is let go of a stop or starts, whichever shows more of the
// current, or three times those when it is switched off on its way.
func atStall(steps []driveStep) float64 {
	var held, started, running []float64
	for i := range steps {
		switch s, size := &steps[i], math.Abs(steps[i].size); {
		case s.on:
			started = append(started, size)
		case s.stalled:
			held = append(held, size)
		default:
			running = append(running, stallOverRunning*size)
		}
	}
	most := 0.0
	for _, x := range [][]float64{held, started, running} {
		if len(x) > 1 {
			most = math.Max(most, medianOf(x))
		}
	}
	return most
}
