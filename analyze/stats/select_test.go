package stats

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Quantiles by selection are those by sorting, to the bit, and the data stay as they are.
func TestQuantileAsBySorting(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 5))
	for name, draw := range map[string]func() float64{
		"random":    rng.NormFloat64,
		"few codes": func() float64 { return float64(rng.IntN(4)) },
		"infinite":  func() float64 { return []float64{math.Inf(-1), 1, math.Inf(1)}[rng.IntN(3)] },
	} {
		for _, n := range []int{1, 2, 3, 16, 17, 18, 100, 1001} {
			x := make([]float64, n)
			for i := range x {
				x[i] = draw()
			}
			before, sorted := slices.Clone(x), slices.Sorted(slices.Values(x))
			for _, p := range []float64{0, 0.02, 0.5, 0.9, 1} {
				got, want := Quantile(x, p), sortedQuantile(sorted, p)
				if got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
					t.Errorf("%s, %d values: quantile %g is %v, by sorting %v", name, n, p, got, want)
				}
			}
			if !slices.Equal(x, before) {
				t.Errorf("%s, %d values: the data were changed", name, n)
			}
			x[rng.IntN(n)] = math.NaN()
			if q := Quantile(x, 0.5); !math.IsNaN(q) {
				t.Errorf("%s, %d values, one of them none: median %v", name, n, q)
			}
		}
	}
}
