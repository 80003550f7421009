package analyze

import (
	"math"
	"testing"
)

// A reading that wanders over longer than the window of a rate throws the speeds in it to and
// fro: the usual one is still what the shaft does from stop to stop, and a start by that
// rate loses nothing.
func TestUsualRateInWander(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		d := newDraft(seed)
		d.lo, d.hi, d.x, d.rate, d.noise = 0.62, 1.56, 0.62, 0.085, 0.012
		wander, keeps := 0.0, math.Exp(-d.dt/0.3) // it changes within 0.3 s
		d.read = func(d *draft) float64 {
			wander = keeps*wander + math.Sqrt(1-keeps*keeps)*0.02*d.rng.NormFloat64()
			return d.x + wander
		}
		d.sweeps(2)
		for range 3 {
			d.run(12, 6).run(0, 1).run(-12, 5).run(0, 1)
		}
		w := workOf(t, d.trace())
		for i, r := range w.rate {
			if math.Abs(r/d.rate-1) > 0.2 {
				t.Errorf("seed %d, side %d: %.4f V/s, of %.4f", seed, i, r, d.rate)
			}
		}
		if got, v := look(t, d); finding(got, Play) != nil {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
