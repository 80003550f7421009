package stats

import (
	"math"
	"slices"
	"testing"
)

// awkward returns data that no function may choke on.
func awkward() map[string][]float64 {
	return map[string][]float64{
		"nil":      nil,
		"one":      {1},
		"two":      {1, 2},
		"constant": {3, 3, 3, 3, 3, 3},
		"zeros":    make([]float64, 40),
		"NaN":      {1, math.NaN(), 3, 4, 5},
		"all NaN":  {math.NaN(), math.NaN(), math.NaN(), math.NaN()},
		"Inf":      {1, math.Inf(1), 3, math.Inf(-1), 5},
		"huge":     {1e308, -1e308, 1e308, -1e308, 1e308, 1},
		"tiny":     {5e-324, 0, -5e-324, 0, 5e-324, 1e-310},
		"square":   {1, -1, 1, -1, 1, -1, 1, -1},
		"ramp":     index(2000, 0),
	}
}

// Data never make a function panic, hang or change its input; what the numbers
// are for good data the other tests say. Non-finite data give no finite
// estimate.
func TestAwkwardData(t *testing.T) {
	for name, x := range awkward() {
		kept := slices.Clone(x)
		at := index(len(x), 0)
		yes := make([]bool, len(x))
		for i := range yes {
			yes[i] = i%2 == 0
		}
		single := map[string]float64{
			"MannKendall": MannKendall(x).S,
			"TheilSen":    TheilSen(at, x, 0.95).Slope,
			"TheilSen x":  TheilSen(x, at, 0.95).Slope,
			"ACF":         ACF(nil, x, 3)[1],
		}
		for f, v := range single {
			if !finite(kept) && !math.IsNaN(v) {
				t.Errorf("%s of %s = %v, want NaN", f, name, v)
			}
		}
		if _, ok := Regularity(x); ok && !finite(kept) {
			t.Errorf("Regularity of %s is ok", name)
		}
		Median(x)
		MAD(x)
		Ranks(nil, x)
		ECE(x, yes, 10)
		Brier(x, yes)
		Posterior(x, x)
		for i, v := range x {
			if v != kept[i] && v == v {
				t.Fatalf("%s was changed", name)
			}
		}
	}
}
