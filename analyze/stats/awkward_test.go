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
		halves := HalfPeriods(x, 0.1)
		single := map[string]float64{
			"MannKendall":    MannKendall(x).S,
			"TheilSen":       TheilSen(at, x, 0.95).Slope,
			"TheilSen x":     TheilSen(x, at, 0.95).Slope,
			"PELT":           costOf(PELT(x, 1)),
			"ACF":            ACF(nil, x, 3)[1],
			"HodgesLehmann":  HodgesLehmann(x),
			"Huber":          Huber(x, 1.5),
			"Biweight":       Biweight(x, 4.685),
			"Sn":             Sn(x),
			"Qn":             Qn(x),
			"LombScargle":    LombScargle(nil, at, x, []float64{1})[0],
			"LombScargle t":  LombScargle(nil, x, at, []float64{1})[0],
			"Goertzel":       Goertzel(x, 0.1),
			"Absolute":       AbsoluteLinearity(at, x).Max,
			"Terminal":       TerminalBased(at, x).Max,
			"ZeroBased":      ZeroBased(x, at).Max,
			"Independent":    IndependentLinearity(at, x).Max,
			"Independent x":  IndependentLinearity(x, at).Max,
			"Smoothness":     Smoothness(at, x, 0.5).PeakToPeak,
			"Hysteresis":     Hysteresis(at, x, x).Max,
			"Murphy":         Murphy(x, yes).Resolution,
			"HeShape":        HeShape(x),
			"ForsmanStattin": ForsmanStattin(halves, 0.5, 0.7),
			"Singhal":        SinghalSalsbury(halves),
		}
		for f, v := range single {
			if !finite(kept) && !math.IsNaN(v) {
				t.Errorf("%s of %s = %v, want NaN", f, name, v)
			}
		}
		for f, ok := range map[string]bool{
			"Regularity": okOf(Regularity(x)), "MiaoSeborg": okOf(MiaoSeborg(x)),
			"SineFit3": okOf(SineFit3(at, x, 0.1)), "SineFit4": okOf(SineFit4(at, x, 0.1)),
			"Platt": okOf(Platt(x, yes)), "Temperature": okOf(TemperatureScale(x, yes)),
		} {
			if !finite(kept) && ok {
				t.Errorf("%s of %s is ok", f, name)
			}
		}
		if _, _, ok := Welch(x, 1, 4); ok && !finite(kept) {
			t.Errorf("Welch of %s is ok", name)
		}
		Median(x)
		MAD(x)
		Ranks(nil, x)
		CUSUM(x, 0, 1, 5)
		EWMA(nil, x, 0.5, 0)
		PageHinkley(nil, x, 0.1, 5)
		Pettitt(x)
		Isotonic(nil, x, nil)
		ECE(x, yes, 10)
		Brier(x, yes)
		LogLoss(x, yes)
		Posterior(x, x)
		for i, v := range x {
			if v != kept[i] && v == v {
				t.Fatalf("%s was changed", name)
			}
		}
	}
}

func costOf(_ []int, v float64) float64 { return v }

func okOf[T any](_ T, ok bool) bool { return ok }
