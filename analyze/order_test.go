package analyze

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// What selecting gives must be what sorting gives, to the bit.
func TestMedianAndQuantileAsBySorting(t *testing.T) {
	t.Parallel()
	sorted := func(x []float64) []float64 {
		s := slices.Clone(x)
		slices.Sort(s)
		return s
	}
	rng := rand.New(rand.NewPCG(3, 5))
	shapes := map[string]func(i, n int) float64{
		"random":    func(i, n int) float64 { return rng.NormFloat64() },
		"few codes": func(i, n int) float64 { return float64(rng.IntN(4)) },
		"equal":     func(i, n int) float64 { return 2 },
		"rising":    func(i, n int) float64 { return float64(i) },
		"falling":   func(i, n int) float64 { return float64(n - i) },
		"organ":     func(i, n int) float64 { return -math.Abs(float64(i) - float64(n)/2) },
		"overflow":  func(i, n int) float64 { return []float64{math.Inf(-1), 1, math.Inf(1)}[rng.IntN(3)] },
		"gaps":      func(i, n int) float64 { return []float64{1, math.NaN(), 3, 2}[rng.IntN(4)] },
	}
	same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	for name, f := range shapes {
		for _, n := range []int{1, 2, 3, 16, 17, 18, 100, 1001, 4096} {
			x := make([]float64, n)
			for i := range x {
				x[i] = f(i, n)
			}
			s, before := sorted(x), slices.Clone(x)
			if got, want := medianOf(x), (s[(n-1)/2]+s[n/2])/2; !same(got, want) {
				t.Errorf("%s, %d values: median %v, by sorting %v", name, n, got, want)
			}
			for _, q := range []float64{0, 0.02, 0.5, 0.9, 1} {
				p := q * float64(n-1)
				want := s[n-1]
				if i := int(p); i < n-1 {
					want = s[i] + (p-float64(i))*(s[i+1]-s[i])
				}
				if got := quantileOf(x, q); !same(got, want) {
					t.Errorf("%s, %d values: quantile %g is %v, by sorting %v", name, n, q, got, want)
				}
			}
			if !slices.EqualFunc(x, before, same) {
				t.Errorf("%s, %d values: the data were changed", name, n)
			}
		}
	}
	if !math.IsNaN(medianOf(nil)) || !math.IsNaN(quantileOf(nil, 0.5)) {
		t.Error("nothing has no median")
	}
}

// What is not known takes the place of nothing that is, whichever comes first.
func TestUnknownIsNoExtreme(t *testing.T) {
	t.Parallel()
	n := math.NaN()
	same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
	for _, c := range []struct{ x, y, larger, lesser float64 }{{1, 2, 2, 1}, {2, 1, 2, 1}, {n, 1, 1, 1}, {1, n, 1, 1}, {n, n, n, n}} {
		if a, b := larger(c.x, c.y), lesser(c.x, c.y); !same(a, c.larger) || !same(b, c.lesser) {
			t.Errorf("of %v and %v the larger is %v, the lesser %v", c.x, c.y, a, b)
		}
	}
	known, unknown := &Capture{Free: true}, &Capture{Free: true}
	for i := range rippleCount {
		known.ripple[i], unknown.ripple[i] = ripple{low: 0.1, high: 0.2}, unknownRipple()
	}
	for _, free := range []bool{false, true} {
		a, b := *known, *unknown
		a.Free, b.Free = free, free
		for _, in := range [][]*Capture{{&a, &b}, {&b, &a}} {
			if c, f := ripplesOf(in, 0); free && f.high != 0.2 || !free && c.low != 0.1 {
				t.Errorf("a capture of which the ripple is not known hides one: %+v, %+v", c, f)
			}
		}
	}
}
