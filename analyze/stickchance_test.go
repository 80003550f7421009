package analyze

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The chance that is told of noise alone must not be less than noise makes: stretches of
// even noise, by steps from row to row as the finder takes them, lean forward beyond two
// standard errors no more often than reckoned, and all of several never do.
func TestNoiseLeansForwardNoMoreOftenThanTold(t *testing.T) {
	const trials, rows = 4000, 400
	rng := rand.New(rand.NewPCG(7, 1))
	lean := 0
	for range trials {
		var a increments
		last := rng.NormFloat64()
		for range rows {
			x := rng.NormFloat64()
			a.add(x - last)
			last = x
		}
		if _, skew := a.moments(); skew > 2*math.Sqrt(6/float64(a.n)) {
			lean++
		}
	}
	told := noiseStepsSo(1, 1, 1)
	if got, error3 := float64(lean)/trials, 3*math.Sqrt(told/trials); got > told+error3 {
		t.Errorf("noise leans forward in %.4f of the stretches, told %.4f", got, told)
	}
	if lean == 0 {
		t.Error("noise never leans forward: the test shows nothing")
	}
	if p := noiseStepsSo(16, 16, 8); p > 1e-20 {
		t.Errorf("16 of 16 by chance: %g", p)
	}
	if p := noiseStepsSo(1, 16, 1); p < 0.2 {
		t.Errorf("1 of 16 by chance: %g", p)
	}
}
