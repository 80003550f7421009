package stats

import (
	"math"
	"testing"
)

// NIST Statistical Reference Datasets, linear regression: Norris. Certified:
// slope 1.00211681802045 (sd 0.000429796848199937), intercept
// -0.262323073774029, residual sd 0.884796396144373.
func TestFitLineNorris(t *testing.T) {
	x, y := norris()
	l, ok := FitLine(x, y)
	if !ok {
		t.Fatal("no line")
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"slope", l.Slope, 1.00211681802045},
		{"intercept", l.Intercept, -0.262323073774029},
		{"residual sd", l.Residual, 0.884796396144373},
		{"sd of slope", l.Residual / l.Spread, 0.000429796848199937},
	} {
		if math.Abs(c.got-c.want) > 1e-9*math.Abs(c.want) {
			t.Errorf("%s %.15g, want %.15g", c.name, c.got, c.want)
		}
	}
}

// The p-value with one and two degrees of freedom has closed forms:
// 1 - 2 atan(t)/pi and 1 - t/sqrt(2 + t^2).
func TestLineP(t *testing.T) {
	for _, y := range [][]float64{{0, 1.1, 1.9}, {0, 1.2, 1.9, 3.1}, {5, 4, 4.4, 3}} {
		x := []float64{0, 1, 2, 3}[:len(y)]
		l, ok := FitLine(x, y)
		if !ok {
			t.Fatal("no line")
		}
		s := math.Abs(l.Slope) * l.Spread / l.Residual
		want := 1 - 2*math.Atan(s)/math.Pi
		if len(y) == 4 {
			want = 1 - s/math.Sqrt(2+s*s)
		}
		if got := l.P(0); math.Abs(got-want) > 1e-9 {
			t.Errorf("%v: p %v, want %v", y, got, want)
		}
		if l.P(10*l.Residual) <= l.P(0) {
			t.Errorf("%v: a larger known error does not weaken the slope", y)
		}
	}
	for _, y := range [][]float64{{1, 2}, {1, math.NaN(), 3}} {
		if _, ok := FitLine([]float64{0, 1, 2}[:len(y)], y); ok {
			t.Errorf("%v gave a line", y)
		}
	}
	if _, ok := FitLine([]float64{1, 1, 1}, []float64{1, 2, 3}); ok {
		t.Error("equal x gave a line")
	}
}
