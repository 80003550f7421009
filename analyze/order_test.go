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
