package analyze

import (
	"math"
	"testing"
)

// A reading that rounding alone scatters swings by no more than two steps and what is
// allowed for a change; what noise scatters, by that of its extremes.
func TestLeastSwingCountsRoundingOnce(t *testing.T) {
	t.Parallel()
	const step = 0.04 // V
	rounded := step / math.Sqrt(12)
	for _, c := range []struct {
		name         string
		noise        float64 // V rms, as measured, rounding included
		least, below float64 // V
	}{
		{"rounding alone", rounded, 2 * step, 3.5 * step},
		{"noise of ten steps", 10 * step, 6.5 * 10 * step, 8*10*step + 2*step},
	} {
		w := &work{lim: Defaults().Limits, noise: c.noise, quantum: step}
		_, _, w.tol = resolved(w.lim, c.noise, step, 1, 5)
		w.stallNoise.of(func() float64 { return c.noise })
		if got := w.leastSwing(); got < c.least || got > c.below {
			t.Errorf("%s: %.3f V, want %.3f to %.3f", c.name, got, c.least, c.below)
		}
	}
}
