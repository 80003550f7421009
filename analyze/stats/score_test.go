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

// Twelve own forecasts; the figures for them come from numpy, scipy.optimize
// and statsmodels.
func forecasts() (p []float64, y []bool) {
	return []float64{.05, .15, .22, .28, .41, .48, .55, .63, .77, .81, .88, .95},
		bools(0, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1, 1)
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }

func logits(p []float64) []float64 {
	out := make([]float64, len(p))
	for i, v := range p {
		out[i] = logit(v)
	}
	return out
}

func TestScoreReference(t *testing.T) {
	// Example of the scikit-learn manual, from memory; checked by hand.
	near(t, "Brier", Brier([]float64{0.1, 0.9, 0.8, 0.3}, bools(0, 1, 1, 0)), 0.0375, 1e-15)

	p, y := forecasts()
	near(t, "Brier", Brier(p, y), 0.192966667, 5e-10)
	near(t, "log loss", LogLoss(p, y), 0.556650978, 5e-10)
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

	// Own worked example of the decomposition.
	var q []float64
	for _, v := range []float64{.2, .6, .9} {
		q = append(q, v, v, v, v, v)
	}
	o := bools(0, 0, 1, 0, 0, 1, 0, 1, 1, 0, 1, 1, 1, 1, 0)
	m := Murphy(q, o)
	near(t, "Brier", Brier(q, o), 0.19, 1e-15)
	near(t, "reliability", m.Reliability, 0.003333333, 5e-10)
	near(t, "resolution", m.Resolution, 0.062222222, 5e-10)
	near(t, "uncertainty", m.Uncertainty, 0.248888889, 5e-10)
}

func TestScoreProperties(t *testing.T) {
	r := seeded(70)
	for n := 1; n < 60; n++ {
		p, y := make([]float64, n), make([]bool, n)
		for i := range p {
			p[i] = float64(r.IntN(21)) / 20
			y[i] = r.Float64() < p[i]
		}
		m := Murphy(p, y)
		near(t, "decomposition", m.Reliability-m.Resolution+m.Uncertainty, Brier(p, y), 1e-12)
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
	if l := LogLoss([]float64{0, 1}, bools(0, 1)); l != 0 {
		t.Errorf("perfect forecasts lose %v", l)
	}
	if l := LogLoss([]float64{0}, bools(1)); !math.IsInf(l, 1) {
		t.Errorf("certain and wrong loses %v", l)
	}
	bad := []float64{math.NaN()}
	if v, _ := ECE(bad, bools(1), 5); !math.IsNaN(v) || !math.IsNaN(Brier(bad, bools(1))) ||
		!math.IsNaN(LogLoss(bad, bools(1))) || !math.IsNaN(Murphy(bad, bools(1)).Resolution) {
		t.Error("a NaN forecast gives a number")
	}
	if v, _ := ECE(nil, nil, 5); !math.IsNaN(v) || !math.IsNaN(Brier(nil, nil)) || !math.IsNaN(Murphy(nil, nil).Uncertainty) {
		t.Error("no forecasts give a number")
	}
	mustPanic(t, "lengths", func() { Brier(bad, nil) })
	mustPanic(t, "bins", func() { Reliability(nil, nil, 0) })
}

func TestCalibrationReference(t *testing.T) {
	p, y := forecasts()
	s := logits(p)
	// scipy BFGS; without smoothed targets statsmodels GLM.
	c, ok := Platt(s, y)
	if !ok {
		t.Fatal("Platt failed")
	}
	near(t, "a", c.A, 0.534543, 1e-6)
	near(t, "b", c.B, -0.046505, 1e-6)
	near(t, "p(0)", c.P(0), 0.488376, 1e-6)
	target := make([]float64, len(y))
	for i, o := range y {
		target[i] = indicator(o)
	}
	c, ok = logisticFit(s, target)
	if !ok {
		t.Fatal("plain fit failed")
	}
	near(t, "plain a", c.A, 0.806418, 1e-6)
	near(t, "plain b", c.B, -0.071926, 1e-6)

	temperature, ok := TemperatureScale(s, y)
	if !ok {
		t.Fatal("temperature failed")
	}
	near(t, "T", temperature, 1.245020, 1e-6)
	cooled := make([]float64, len(s))
	for i, v := range s {
		cooled[i] = logistic(v / temperature)
	}
	near(t, "log loss at T", LogLoss(cooled, y), 0.551227452, 5e-10)
}

func TestCalibrationProperties(t *testing.T) {
	r := seeded(71)
	s := normals(r, 400)
	y := make([]bool, len(s))
	for i, v := range s {
		y[i] = r.Float64() < logistic(1.5*v-0.5)
	}
	a, ok := Platt(s, y)
	if !ok {
		t.Fatal("Platt failed")
	}
	// Any change of unit or zero of the scores leaves the probabilities.
	b, ok := Platt(affine(s, -100, 3e4), y)
	if !ok {
		t.Fatal("Platt failed on scaled scores")
	}
	near(t, "slope", b.A*-100, a.A, 1e-8)
	near(t, "probability", b.P(-100*0.3+3e4), a.P(0.3), 1e-8)
	// Scores that separate the outcomes still give a finite slope.
	if c, ok := Platt([]float64{-2, -1, 1, 2}, bools(0, 0, 1, 1)); !ok || !(c.A > 0) || math.IsInf(c.A, 0) {
		t.Errorf("separated: %+v, %v", c, ok)
	}

	temperature, ok := TemperatureScale(s, y)
	if !ok {
		t.Fatal("temperature failed")
	}
	hot, ok := TemperatureScale(affine(s, 5, 0), y)
	if !ok {
		t.Fatal("temperature failed on scaled scores")
	}
	near(t, "scaled temperature", hot, 5*temperature, 1e-9)
	rows, class := make([][]float64, len(s)), make([]int, len(s))
	for i, v := range s {
		rows[i] = []float64{9, 9 - v} // class 0 has the odds v
		if !y[i] {
			class[i] = 1
		}
	}
	several, ok := TemperatureScaleClasses(rows, class)
	if !ok {
		t.Fatal("temperature of classes failed")
	}
	near(t, "classes", several, temperature, 1e-9)
}

func TestCalibrationTrouble(t *testing.T) {
	for name, c := range map[string]struct {
		s []float64
		y []bool
	}{
		"empty": {nil, nil}, "one outcome": {[]float64{1, 2}, bools(1, 1)},
		"equal scores": {[]float64{0, 0}, bools(0, 1)}, "NaN": {[]float64{0, math.NaN()}, bools(0, 1)},
	} {
		if _, ok := Platt(c.s, c.y); ok {
			t.Errorf("Platt %s: ok", name)
		}
		if v, ok := TemperatureScale(c.s, c.y); ok || !math.IsNaN(v) {
			t.Errorf("temperature %s: %v", name, v)
		}
	}
	if _, ok := TemperatureScale([]float64{-1, 1}, bools(1, 0)); ok {
		t.Error("scores worse than chance have a temperature")
	}
	mustPanic(t, "class", func() { TemperatureScaleClasses([][]float64{{1, 2}}, []int{2}) })
	mustPanic(t, "lengths", func() { Platt(nil, bools(1)) })
}

func TestIsotonic(t *testing.T) {
	// R isoreg manual example.
	got := Isotonic(nil, []float64{1, 0, 4, 3, 3, 5, 4, 2, 0}, nil)
	for i, v := range got {
		want := 3.0
		if i < 2 {
			want = 0.5
		}
		near(t, "isoreg", v, want, 1e-15)
	}
	third := 1.0 / 3
	want := []float64{0, 0, third, third, third, .5, .5, 2 * third, 2 * third, 2 * third, 1, 1}
	_, y := forecasts()
	target := make([]float64, len(y))
	for i, o := range y {
		target[i] = indicator(o)
	}
	for i, v := range Isotonic(nil, target, nil) {
		near(t, "forecasts", v, want[i], 1e-15)
	}

	r := seeded(72)
	for n := 1; n < 50; n++ {
		y, w := normals(r, n), make([]float64, n)
		var sum, fitted float64
		for i := range w {
			w[i] = 0.5 + r.Float64()
		}
		fit := Isotonic(make([]float64, n), y, w)
		for i, v := range fit {
			if i > 0 && v < fit[i-1] {
				t.Errorf("n=%d: falls at %d", n, i)
			}
			sum += w[i] * y[i]
			fitted += w[i] * v
		}
		near(t, "weighted sum", fitted, sum, 1e-12)
		again := Isotonic(nil, fit, w)
		back := Isotonic(nil, affine(y, 2, 1), w)
		for i, v := range fit {
			near(t, "fitted twice", again[i], v, 1e-12)
			near(t, "moved", back[i], 2*v+1, 1e-12)
		}
		// The max-min formula (Barlow et al. 1972) gives the same values.
		for i := range y {
			highest := math.Inf(-1)
			for a := 0; a <= i; a++ {
				lowest := math.Inf(1)
				for b := i; b < n; b++ {
					var s, ws float64
					for k := a; k <= b; k++ {
						s += w[k] * y[k]
						ws += w[k]
					}
					lowest = math.Min(lowest, s/ws)
				}
				highest = math.Max(highest, lowest)
			}
			near(t, "max-min", fit[i], highest, 1e-12)
		}
	}
	if v := Isotonic(nil, []float64{1, math.NaN()}, nil); !math.IsNaN(v[0]) {
		t.Errorf("NaN gives %v", v)
	}
	mustPanic(t, "weight", func() { Isotonic(nil, []float64{1}, []float64{0}) })
}
