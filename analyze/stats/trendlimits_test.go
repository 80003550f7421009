package stats

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The chance that the limits hold the true slope, by simulation, is at least
// the level and no more than the next step of the exact distribution.
func TestSlopeLimitsHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, c := range []struct {
		n        int
		from, to float64 // 1 - 2 P(fewer than k inversions), exactly
	}{{5, 0.983, 0.983}, {6, 0.983, 0.983}, {8, 0.969, 0.969}} {
		const runs = 20000
		hold := 0
		x, y := make([]float64, c.n), make([]float64, c.n)
		for range runs {
			for i := range x {
				x[i] = float64(i) + 0.3*rng.Float64()
				y[i] = 2*x[i] + rng.NormFloat64()
			}
			lo, hi, ok := SlopeLimits(x, y, 0.95)
			if !ok || lo > hi {
				t.Fatalf("n = %d: %v to %v, %v", c.n, lo, hi, ok)
			}
			if lo <= 2 && 2 <= hi {
				hold++
			}
		}
		// Five standard errors of the count.
		se := 5 * math.Sqrt(0.05*0.95/runs)
		if got := float64(hold) / runs; got < c.from-se || got > c.to+se {
			t.Errorf("n = %d: %.4f hold, want %.3f", c.n, got, c.from)
		}
	}
}

func TestSlopeLimitsTooFew(t *testing.T) {
	if _, _, ok := SlopeLimits([]float64{1, 2, 3, 4}, []float64{1, 2, 3, 5}, 0.95); ok {
		t.Error("four points reach 91.7 % at most")
	}
	if lo, hi, ok := SlopeLimits([]float64{1, 2, 3, 4}, []float64{1, 2, 3, 5}, 0.9); !ok || lo != 1 || hi != 2 {
		t.Errorf("90 %% of four points: %v to %v, %v; want all pair slopes, 1 to 2", lo, hi, ok)
	}
	if _, _, ok := SlopeLimits([]float64{1, 2, math.NaN()}, []float64{1, 2, 3}, 0.5); ok {
		t.Error("NaN has no limits")
	}
}

// Hollander and Wolfe (1973), p. 69 f., permeability of the human chorioamnion
// at term and at 12 to 26 weeks: one-sided exact p 0.1272 (from memory), and
// the two-sided one is twice that, without ties.
func TestRankSumPermeability(t *testing.T) {
	x := []float64{0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46}
	y := []float64{1.15, 0.88, 0.90, 0.74, 1.21}
	p, high := RankSum(x, y)
	if math.Abs(p-2*0.1272) > 2e-4 || !high {
		t.Errorf("p = %v, high %v", p, high)
	}
	if q, high := RankSum(y, x); math.Abs(q-p) > 1e-12 || high {
		t.Errorf("exchanged: p = %v, high %v", q, high)
	}
}

func TestRankSumLimits(t *testing.T) {
	// All three of eight last: 1 of 56 ways, and its mirror.
	if p, high := RankSum([]float64{6, 7, 8}, []float64{1, 2, 3, 4, 5}); math.Abs(p-2./56) > 1e-12 || !high {
		t.Errorf("p = %v, high %v", p, high)
	}
	if p, _ := RankSum([]float64{1, 1, 1}, []float64{1, 1}); p != 1 {
		t.Errorf("all equal: p = %v", p)
	}
	if p, _ := RankSum(nil, []float64{1}); p != 1 {
		t.Errorf("no sample: p = %v", p)
	}
	// The approximation meets the exact value at the border between them.
	var a, b []float64
	for i := range 20 {
		a, b = append(a, float64(2*i)+0.1*float64(i*i)), append(b, float64(2*i)+0.5)
	}
	exact, _ := RankSum(a, b)
	near, _ := RankSum(append(a, 19.9), append(b, 20.05))
	if math.Abs(exact-near) > 0.05 {
		t.Errorf("exact %v, approximated with one more of each %v", exact, near)
	}
}

// Fisher's tea: 3 of 4 and 1 of 4 right has the one-sided p 17/70 and the
// two-sided 34/70.
func TestFisherTwoSided(t *testing.T) {
	for _, c := range []struct {
		a, b, c, d int
		want       float64
	}{{3, 1, 1, 3, 34. / 70}, {4, 0, 0, 4, 2. / 70}, {0, 0, 0, 0, 1}, {5, 0, 5, 0, 1}, {2, 0, 0, 1, 1. / 3}} {
		if p := FisherTwoSided(c.a, c.b, c.c, c.d); math.Abs(p-c.want) > 1e-9 {
			t.Errorf("(%d %d; %d %d): p = %v, want %v", c.a, c.b, c.c, c.d, p, c.want)
		}
	}
}
