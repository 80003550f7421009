package analyze

import (
	"math"
	"math/rand/v2"
	"testing"

	"threewire/analyze/stats"
	"threewire/signal"
)

// The short way to tell that no later line is straight enough passes none over that is, of
// steps that a filter rounds; and in noise it saves the long way.
func TestStraightens(t *testing.T) {
	t.Parallel()
	const bins, at = 1000, 500
	straight, saved, noise := 0, 0, 0
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 1))
		step, tau := float64(seed%4)*0.1, 0.005+0.045*rng.Float64()
		w := &work{tr: &signal.Trace{Step: 0.001}, v: make([]float64, bins)}
		clock := 0.0
		for i := range bins {
			clock += 0.0005 + 0.001*rng.Float64() // rows never come quite evenly
			w.t = append(w.t, clock)
			w.v[i] = 0.004 * rng.NormFloat64()
			if i > at {
				w.v[i] += step * (1 - math.Exp(-(clock-w.t[at])/tau))
			}
		}
		before := w.lineBefore(at)
		s, ok := w.stepFrom(before, at+1)
		if !ok {
			t.Fatal("no step measured")
		}
		most, least := straighter*s.after, math.Inf(1)
		for e := at + 2; lapse(w.t[e], w.t[at+1]) <= settling; e++ {
			l, ok := stats.FitLine(w.t[e:w.lineAfter(e)+1], w.v[e:w.lineAfter(e)+1])
			if ok {
				least = math.Min(least, l.Residual)
			}
		}
		may := w.straightens(at+1, most)
		if least <= most {
			if straight++; !may {
				t.Errorf("seed %d: a line scatters by %.4f V, %.4f V allowed, and it was passed over", seed, least, most)
			}
		}
		if step == 0 {
			if noise++; !may {
				saved++
			}
		}
	}
	if straight < 10 || 10*saved < 9*noise {
		t.Errorf("%d steps became straight, %d of %d stretches of noise told by few lines", straight, saved, noise)
	}
}
