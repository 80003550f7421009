package stats

import (
	"math"
	"testing"
)

// One series gives what the Mann-Kendall test gives: EPA 2009, Example 17-7
// (see trend_test.go).
func TestSeasonalOfOneSeries(t *testing.T) {
	y := []float64{56, 53, 51, 55, 52, 60, 62, 59, 61, 63}
	one, all := MannKendall(y), SeasonalKendall(y)
	if one.S != all.S || math.Abs(one.P-all.P) > 1e-12 || math.Abs(one.Var-all.Var) > 1e-9 {
		t.Errorf("one series: %+v, want %+v", all, one)
	}
}

// Full enumeration: two falling series of three and two values are one of
// 3! * 2! = 12 orders, and the rising ones another: two-sided 2/12.
func TestSeasonalByEnumeration(t *testing.T) {
	m := SeasonalKendall([]float64{3, 2, 1}, []float64{7, 6})
	if !m.Exact || m.S != -4 || math.Abs(m.P-2.0/12) > 1e-12 || m.Tau != -1 {
		t.Errorf("got %+v, want S -4, P 1/6", m)
	}
	// Gilbert 1987, n = 4 (references 1a): P(S >= 4) = 4/24 one-sided.
	if g := SeasonalKendall([]float64{10, 15, 14, 20}); math.Abs(g.P-2*4.0/24) > 1e-12 {
		t.Errorf("n = 4: P %g, want 1/3", g.P)
	}
}

func TestSeasonalIgnoresLevels(t *testing.T) {
	a, b := []float64{1, 2, 3, 4, 5}, []float64{101, 102, 103, 104, 105}
	if m := SeasonalKendall(a, b); m.S != 20 || m.P > 1e-3 {
		t.Errorf("got %+v", m)
	}
	if m := SeasonalKendall(a, []float64{9}); m.S != 10 {
		t.Errorf("a single value adds nothing: %+v", m)
	}
	if m := SeasonalKendall(); !math.IsNaN(m.P) {
		t.Errorf("no series: %+v", m)
	}
}
