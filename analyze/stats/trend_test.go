package stats

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
)

// near fails the test unless got is within tol of want, absolutely or, for
// large numbers, relative to want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > tol*math.Max(1, math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

func normals(r *rand.Rand, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = r.NormFloat64()
	}
	return x
}

func index(n int, first float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = first + float64(i)
	}
	return x
}

func affine(x []float64, scale, shift float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = scale*v + shift
	}
	return out
}

func mustPanic(t *testing.T, what string, f func()) {
	t.Helper()
	defer func() {
		if recover() == nil {
			t.Errorf("%s: no panic", what)
		}
	}()
	f()
}

// US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 17-7 (sodium). The
// ten inputs are from memory; they reproduce every published output digit.
func sodium() (t, y []float64) {
	return []float64{89.6, 90.1, 90.8, 91.1, 92.1, 93.1, 94.1, 95.6, 96.1, 96.3},
		[]float64{56, 53, 51, 55, 52, 60, 62, 59, 61, 63}
}

func TestMannKendallProperties(t *testing.T) {
	r := seeded(1)
	for n := 3; n < 60; n++ {
		y := normals(r, n)
		if n%3 == 0 {
			for i := range y {
				y[i] = math.Round(2 * y[i]) // ties
			}
		}
		m := MannKendall(y)

		var s float64
		for i := range y {
			for j := i + 1; j < n; j++ {
				s += float64(sign(y[j] - y[i]))
			}
		}
		near(t, "S by pairs", m.S, s, 0)

		grown := make([]float64, n)
		for i, v := range y {
			grown[i] = math.Exp(v)
		}
		if g := MannKendall(grown); g != m {
			t.Errorf("n=%d: a monotone map changes %+v to %+v", n, m, g)
		}
		back := slices.Clone(y)
		slices.Reverse(back)
		if b := MannKendall(back); b.S != -m.S || b.P != m.P || b.Z != -m.Z {
			t.Errorf("n=%d: reversed %+v, forward %+v", n, b, m)
		}
		if !(m.P >= 0 && m.P <= 1) {
			t.Errorf("n=%d: P = %v", n, m.P)
		}
	}
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// The exact distribution is checked against every permutation.
func TestKendallTailEnumerated(t *testing.T) {
	for n := 2; n <= 7; n++ {
		count := map[int]int{}
		total := 0
		permute(index(n, 0), 0, func(p []float64) {
			s := 0
			for i := range p {
				for j := i + 1; j < n; j++ {
					s += sign(p[j] - p[i])
				}
			}
			count[s]++
			total++
		})
		for s := 0; s <= n*(n-1)/2; s++ {
			tail := 0
			for v, c := range count {
				if v >= s {
					tail += c
				}
			}
			near(t, "P(S>=s)", kendallTail(n, s), float64(tail)/float64(total), 1e-15)
		}
	}
}

func permute(p []float64, k int, visit func([]float64)) {
	if k == len(p) {
		visit(p)
		return
	}
	for i := k; i < len(p); i++ {
		p[k], p[i] = p[i], p[k]
		permute(p, k+1, visit)
		p[k], p[i] = p[i], p[k]
	}
}

func TestMannKendallReference(t *testing.T) {
	// Gilbert (1987), input from memory, probability by full enumeration.
	m := MannKendall([]float64{10, 15, 14, 20})
	near(t, "Gilbert S", m.S, 4, 0)
	near(t, "Gilbert P", m.P, 2*4.0/24, 1e-15)
	// EPA QA/G-9 (2000), input from memory; its table prints 0.117 one-sided.
	m = MannKendall([]float64{5, 6, 11, 8, 10})
	near(t, "QA/G-9 S", m.S, 6, 0)
	near(t, "QA/G-9 P", m.P, 2*14.0/120, 1e-15)

	_, y := sodium()
	m = MannKendall(y)
	near(t, "sodium S", m.S, 25, 0)
	near(t, "sodium Var", m.Var, 125, 0)
	near(t, "sodium tau", m.Tau, 0.5555556, 5e-8)
	near(t, "sodium Z", m.Z, 2.146625, 5e-7)
	near(t, "sodium normal P", m.PNormal, 0.03182313, 5e-9)
	near(t, "sodium exact P", m.P, 0.02860946, 5e-9) // R cor.test and scipy kendalltau
	if !m.Exact {
		t.Error("sodium: P not exact")
	}

	// Helsel & Hirsch, input from memory; scipy.
	m = MannKendall([]float64{1, 2, 3, 4, 5, 16, 7})
	near(t, "outlier S", m.S, 19, 0)
	near(t, "outlier tau", m.Tau, 0.904762, 5e-7)
	near(t, "outlier Z", m.Z, 2.703381, 5e-7)
	near(t, "outlier normal P", m.PNormal, 0.00686379, 5e-9)

	// R cor.test(method="kendall", exact=FALSE, continuity=TRUE).
	m = MannKendall([]float64{3, 5, 4, 5, 6, 6, 8, 7, 8, 8, 9, 7})
	near(t, "ties S", m.S, 48, 0)
	near(t, "ties Var", m.Var, 206, 1e-15)
	near(t, "ties Z", m.Z, 3.2746452, 5e-8)
	near(t, "ties P", m.P, 0.001057948, 5e-10)
	near(t, "ties tau-b", m.Tau, 0.7627700714, 5e-11)
	near(t, "variance without ties", kendallVariance(12, nil, nil), 212.666667, 5e-9)

	// R cor.test on the Nile flows.
	m = MannKendall(nile())
	near(t, "Nile S", m.S, -1387, 0)
	near(t, "Nile Var", m.Var, 112728.333333, 5e-12)
	near(t, "Nile Z", m.Z, -4.1280665, 5e-8)
	near(t, "Nile P", m.P, 3.658263e-05, 5e-12)
	near(t, "Nile tau-b", m.Tau, -0.2807413347, 5e-11)
	near(t, "Nile variance without ties", kendallVariance(100, nil, nil), 112750, 0)
}

func TestMannKendallTrouble(t *testing.T) {
	for _, y := range [][]float64{nil, {1, 2}, {1, math.NaN(), 3}, {1, 2, math.Inf(1)}} {
		if m := MannKendall(y); !math.IsNaN(m.S) || !math.IsNaN(m.P) {
			t.Errorf("MannKendall(%v) = %+v, want NaN", y, m)
		}
	}
	if m := MannKendall([]float64{2, 2, 2, 2}); m.S != 0 || m.P != 1 || !math.IsNaN(m.Tau) {
		t.Errorf("constant: %+v", m)
	}
}

func TestTheilSenProperties(t *testing.T) {
	r := seeded(2)
	for n := 2; n < 80; n += 7 {
		x, y := normals(r, n), normals(r, n)
		s := TheilSen(x, y, 0.95)
		if !(s.Low <= s.Slope && s.Slope <= s.High) {
			t.Errorf("n=%d: %+v out of order", n, s)
		}
		// Equivariance: y -> 3y + 2x + 5.
		moved := affine(y, 3, 5)
		floats.AddScaled(moved, 2, x)
		m := TheilSen(x, moved, 0.95)
		near(t, "moved slope", m.Slope, 3*s.Slope+2, 1e-9)
		if !math.IsInf(s.Low, 0) {
			near(t, "moved low", m.Low, 3*s.Low+2, 1e-9)
			near(t, "moved high", m.High, 3*s.High+2, 1e-9)
		}
		// The order of the points does not matter.
		perm := r.Perm(n)
		px, py := make([]float64, n), make([]float64, n)
		for i, k := range perm {
			px[i], py[i] = x[k], y[k]
		}
		if p := TheilSen(px, py, 0.95); p != s {
			t.Errorf("n=%d: permuted %+v, in order %+v", n, p, s)
		}
		// A wider level gives wider limits.
		if w := TheilSen(x, y, 0.99); w.Low > s.Low || w.High < s.High {
			t.Errorf("n=%d: 99 %% limits %+v inside 95 %% limits %+v", n, w, s)
		}
	}
}

// The counting search must find the same order statistics as sorting.
func TestSlopeFinderEqualsSorting(t *testing.T) {
	r := seeded(3)
	for _, rough := range []bool{false, true} {
		x, y := normals(r, 300), normals(r, 300)
		if rough { // many equal x and identical points
			for i := range x {
				x[i], y[i] = math.Round(3*x[i]), math.Round(2*y[i])
			}
		}
		xs, ys := sortedByX(x, y)
		slopes := pairSlopes(xs, ys)
		f := newSlopeFinder(xs, ys)
		for _, k := range []int{1, 2, 100, len(slopes) / 2, len(slopes) - 1, len(slopes)} {
			near(t, "slope", f.kth(k), slopes[k-1], 1e-10)
		}
	}
}

func TestTheilSenReference(t *testing.T) {
	x, y := sodium()
	s := TheilSen(x, y, 0.95)
	near(t, "sodium slope", s.Slope, 1.3333333, 5e-8)
	near(t, "sodium intercept", s.Intercept, -65.9666667, 5e-9)
	near(t, "sodium low", s.Low, 0.3992083, 5e-8)
	near(t, "sodium high", s.High, 2.3333333, 5e-8)
	if s.Pairs != 45 {
		t.Errorf("sodium pairs = %d", s.Pairs)
	}
	// Helsel & Hirsch, input from memory; scipy.stats.theilslopes.
	s = TheilSen(index(7, 1), []float64{1, 2, 3, 4, 5, 16, 7}, 0.95)
	near(t, "outlier slope", s.Slope, 1, 0)
	near(t, "outlier intercept", s.Intercept, 0, 0)
	if s.Pairs != 21 {
		t.Errorf("outlier pairs = %d", s.Pairs)
	}
	// scipy.stats.theilslopes.
	s = TheilSen(index(12, 0), []float64{3, 5, 4, 5, 6, 6, 8, 7, 8, 8, 9, 7}, 0.95)
	near(t, "ties slope", s.Slope, 0.5, 0)
	near(t, "ties intercept", s.Intercept, 3.75, 0)
	near(t, "Nile slope", TheilSen(index(100, 1), nile(), 0.95).Slope, -2.6, 1e-15)
}

func TestTheilSenLong(t *testing.T) {
	r := seeded(4)
	for _, n := range []int{allPairsMax + 1, 2*bisectMax + 1} {
		x := index(n, 0)
		y := normals(r, n)
		floats.AddScaled(y, 0.25, x)
		s := TheilSen(x, y, 0.95)
		// Standard error of the slope: about sqrt(12)*1.02/n^1.5.
		near(t, "long slope", s.Slope, 0.25, 20/math.Pow(float64(min(n, bisectMax)), 1.5))
		if !(s.Low < s.Slope && s.Slope < s.High) {
			t.Errorf("n=%d: %+v out of order", n, s)
		}
	}
	line := affine(index(2000, 0), 0.5, 3)
	near(t, "exact line", TheilSen(index(2000, 0), line, 0.95).Slope, 0.5, 1e-12)
	flat := make([]float64, 2000)
	near(t, "flat", TheilSen(index(2000, 0), flat, 0.95).Slope, 0, 0)
}

func TestTheilSenTrouble(t *testing.T) {
	for _, c := range []struct{ x, y []float64 }{
		{nil, nil}, {[]float64{1}, []float64{1}}, {[]float64{1, 1}, []float64{1, 2}},
		{[]float64{1, math.NaN()}, []float64{1, 2}}, {[]float64{1, 2}, []float64{1, math.Inf(1)}},
	} {
		if s := TheilSen(c.x, c.y, 0.95); !math.IsNaN(s.Slope) || !math.IsNaN(s.High) {
			t.Errorf("TheilSen(%v, %v) = %+v, want NaN", c.x, c.y, s)
		}
	}
	if s := TheilSen([]float64{0, 1, 2}, []float64{0, 1, 3}, 0.95); !math.IsInf(s.Low, -1) || !math.IsInf(s.High, 1) {
		t.Errorf("three points cannot bound a slope: %+v", s)
	}
	mustPanic(t, "lengths", func() { TheilSen([]float64{1}, nil, 0.95) })
	mustPanic(t, "level", func() { TheilSen(nil, nil, 1) })
}

func BenchmarkTheilSen(b *testing.B) {
	for _, c := range []struct {
		name string
		n    int
	}{{"100", 100}, {"1500", 1500}, {"10000", 10000}, {"100000", 100000}} {
		b.Run(c.name, func(b *testing.B) {
			x, y := index(c.n, 0), normals(seeded(5), c.n)
			for b.Loop() {
				TheilSen(x, y, 0.95)
			}
		})
	}
}
