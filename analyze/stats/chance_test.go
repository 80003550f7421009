package stats

import (
	"math"
	"slices"
	"testing"
)

func TestRangePValue(t *testing.T) {
	// The closed form, and two cases that are plain: two points are within w
	// unless both coordinates keep clear, 1 - (1-w)^2; one point always is.
	for _, w := range []float64{0.01, 0.2, 0.5, 0.9, 0.999} {
		near(t, "two", RangePValue(w, 2), 1-(1-w)*(1-w), 1e-15)
		near(t, "one", RangePValue(w, 1), 1, 0)
		last := 1.0
		for k := 2; k < 12; k++ {
			p := RangePValue(w, k)
			f := float64(k)
			near(t, "closed form", p, f*math.Pow(w, f-1)-(f-1)*math.Pow(w, f), 1e-13)
			if !(p < last) {
				t.Errorf("w=%v: P(%d) = %v not below %v", w, k, p, last)
			}
			last = p
		}
	}
	// Simulation: 40000 trials, tolerance four standard errors.
	r := seeded(90)
	for _, c := range []struct {
		w float64
		k int
	}{{0.3, 3}, {0.6, 5}} {
		hits := 0.0
		for range 40000 {
			x := make([]float64, c.k)
			for i := range x {
				x[i] = r.Float64()
			}
			if slices.Max(x)-slices.Min(x) <= c.w {
				hits++
			}
		}
		near(t, "simulated", RangePValue(c.w, c.k), hits/40000, 0.01)
	}
	if p := RangePValue(0, 3); p != 0 {
		t.Errorf("width 0: %v", p)
	}
	if p := RangePValue(2, 3); p != 1 {
		t.Errorf("width 2: %v", p)
	}
	if p := RangePValue(math.NaN(), 3); !math.IsNaN(p) {
		t.Errorf("NaN width: %v", p)
	}
	mustPanic(t, "k", func() { RangePValue(0.5, 0) })
}

func TestBinomialTail(t *testing.T) {
	choose := func(n, k int) float64 {
		c := 1.0
		for i := range k {
			c = c * float64(n-i) / float64(i+1)
		}
		return c
	}
	for _, p := range []float64{0, 0.03, 0.5, 0.8, 1} {
		for n := range 15 {
			for k := -1; k <= n+1; k++ {
				var want float64
				for j := max(k, 0); j <= n; j++ {
					want += choose(n, j) * math.Pow(p, float64(j)) * math.Pow(1-p, float64(n-j))
				}
				near(t, "tail", BinomialTail(k, n, p), want, 1e-12)
			}
		}
	}
	if v := BinomialTail(1, 2, 1.5); !math.IsNaN(v) {
		t.Errorf("p 1.5 gives %v", v)
	}
	mustPanic(t, "n", func() { BinomialTail(0, -1, 0.5) })
}

func TestFisherCombined(t *testing.T) {
	near(t, "one", FisherCombined(0.03), 0.03, 1e-12)
	near(t, "two", FisherCombined(0.1, 0.2), 0.02*(1-math.Log(0.02)), 1e-12)
	// The upper 5 % of chi squared of six degrees of freedom is 12.592 (any table).
	p := math.Exp(-12.592 / 6)
	near(t, "three, by the table", FisherCombined(p, p, p), 0.05, 1e-4)
	near(t, "none", FisherCombined(), 1, 0)
	near(t, "impossible", FisherCombined(0, 0.5), 0, 0)
	mustPanic(t, "probability", func() { FisherCombined(0.5, 1.1) })
}

func TestFisherExact(t *testing.T) {
	// Fisher's tea tasting (The Design of Experiments, 1935; from memory): all
	// eight cups right by luck 1/70, at least three of four right 17/70.
	near(t, "four of four", FisherExact(4, 0, 0, 4), 1.0/70, 1e-12)
	near(t, "three of four", FisherExact(3, 1, 1, 3), 17.0/70, 1e-12)
	r := seeded(91)
	for range 200 {
		a, b, c, d := r.IntN(6), r.IntN(6), r.IntN(6), r.IntN(6)
		p := FisherExact(a, b, c, d)
		near(t, "transposed", FisherExact(a, c, b, d), p, 1e-12)
		near(t, "turned", FisherExact(d, c, b, a), p, 1e-12)
		if b > 0 && c > 0 {
			if q := FisherExact(a+1, b-1, c-1, d+1); !(q < p) {
				t.Errorf("%d %d %d %d: %v not below %v", a, b, c, d, q, p)
			}
		}
	}
	near(t, "empty", FisherExact(0, 0, 0, 0), 1, 0)
	// By symmetry P(X >= 500) + P(X >= 501) is P(X >= 500) + P(X <= 499).
	near(t, "large", FisherExact(500, 500, 500, 500)+FisherExact(501, 499, 499, 501), 1, 1e-9)
	mustPanic(t, "count", func() { FisherExact(-1, 0, 0, 0) })
}

func TestWilson(t *testing.T) {
	// Newcombe, Stat. Med. 17 (1998) 857, Table I cases from memory; limits by
	// statsmodels proportion_confint and R prop.test(correct=FALSE).
	for _, c := range []struct {
		k, n      int
		low, high float64
	}{
		{81, 263, 0.25528852, 0.36620958}, {15, 148, 0.06238640, 0.16048724},
		{0, 20, 0, 0.16112516}, {1, 29, 0.00611321, 0.17175522},
	} {
		low, high := Wilson(c.k, c.n, 0.95)
		near(t, "low", low, c.low, 5e-9)
		near(t, "high", high, c.high, 5e-9)
		mirrorLow, mirrorHigh := Wilson(c.n-c.k, c.n, 0.95)
		near(t, "mirrored low", mirrorLow, 1-high, 1e-14)
		near(t, "mirrored high", mirrorHigh, 1-low, 1e-14)
		wideLow, wideHigh := Wilson(c.k, c.n, 0.99)
		if wideLow > low || wideHigh < high {
			t.Errorf("%d/%d: 99 %% inside 95 %%", c.k, c.n)
		}
	}
	if low, high := Wilson(0, 0, 0.95); low != 0 || high != 1 {
		t.Errorf("no trials: %v..%v", low, high)
	}
	mustPanic(t, "k", func() { Wilson(2, 1, 0.95) })
}
