package stats

import (
	"math"
	"testing"
)

func bools(v ...int) []bool {
	out := make([]bool, len(v))
	for i, b := range v {
		out[i] = b == 1
	}
	return out
}

// Twelve own forecasts; the figures for them come from numpy.
func forecasts() (p []float64, y []bool) {
	return []float64{.05, .15, .22, .28, .41, .48, .55, .63, .77, .81, .88, .95},
		bools(0, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1, 1)
}

func TestScoreReference(t *testing.T) {
	// Example of the scikit-learn manual, from memory; checked by hand.
	near(t, "Brier", Brier([]float64{0.1, 0.9, 0.8, 0.3}, bools(0, 1, 1, 0)), 0.0375, 1e-15)

	p, y := forecasts()
	near(t, "Brier", Brier(p, y), 0.192966667, 5e-10)
	ece, mce := ECE(p, y, 5)
	near(t, "ECE", ece, 0.198333333, 5e-10)
	near(t, "MCE", mce, 0.30, 1e-12)
	count := []int{2, 2, 3, 2, 3}
	gap := []float64{.10, .25, .146667, .30, .213333}
	for i, b := range Reliability(p, y, 5) {
		if b.Count != count[i] {
			t.Errorf("bin %d holds %d, want %d", i, b.Count, count[i])
		}
		near(t, "gap", math.Abs(b.Forecast-b.Observed), gap[i], 5e-7)
	}

	var q []float64
	for _, v := range []float64{.2, .6, .9} {
		q = append(q, v, v, v, v, v)
	}
	o := bools(0, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1, 1, 1, 1, 0)
	near(t, "Brier", Brier(q, o), 0.19, 1e-15)
}

func TestScoreProperties(t *testing.T) {
	r := seeded(70)
	for n := 1; n < 60; n++ {
		p, y := make([]float64, n), make([]bool, n)
		for i := range p {
			p[i] = float64(r.IntN(21)) / 20
			y[i] = r.Float64() < p[i]
		}
		ece, mce := ECE(p, y, 10)
		if !(0 <= ece && ece <= mce && mce <= 1) {
			t.Errorf("n=%d: ECE %v, MCE %v", n, ece, mce)
		}
		flipped, not := make([]float64, n), make([]bool, n)
		for i := range p {
			flipped[i], not[i] = 1-p[i], !y[i]
		}
		near(t, "Brier of the complement", Brier(flipped, not), Brier(p, y), 1e-12)
	}
	// A value on an edge goes to the upper bin, whatever the product rounds to.
	for k := range 100 {
		edge := float64(k) / 100
		if b := binOf(edge, 100); b != k {
			t.Errorf("%v falls in bin %d of 100", edge, b)
		}
	}
	if b := binOf(1, 5); b != 4 {
		t.Errorf("1 falls in bin %d of 5", b)
	}
	bad := []float64{math.NaN()}
	if v, _ := ECE(bad, bools(1), 5); !math.IsNaN(v) || !math.IsNaN(Brier(bad, bools(1))) {
		t.Error("a NaN forecast gives a number")
	}
	if v, _ := ECE(nil, nil, 5); !math.IsNaN(v) || !math.IsNaN(Brier(nil, nil)) {
		t.Error("no forecasts give a number")
	}
	mustPanic(t, "lengths", func() { Brier(bad, nil) })
	mustPanic(t, "bins", func() { Reliability(nil, nil, 0) })
}
