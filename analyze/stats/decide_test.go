package stats

import (
	"math"
	"testing"
)

func TestPosteriorReference(t *testing.T) {
	// Classic screening example, Gigerenzer, from memory: 7.8 %.
	post, ok := Posterior([]float64{0.01, 0.99}, []float64{0.8, 0.096})
	if !ok {
		t.Fatal("not ok")
	}
	near(t, "screening", post[0], 0.077639752, 5e-10)
	near(t, "likelihood ratio", 0.8/0.096, 8.333333, 5e-8)
	// Own worked example, three classes.
	post, ok = Posterior([]float64{.5, .3, .2}, []float64{.9, .2, .1}, []float64{.7, .6, .1})
	if !ok {
		t.Fatal("not ok")
	}
	for i, want := range []float64{0.892351275, 0.101983003, 0.005665722} {
		near(t, "three classes", post[i], want, 5e-10)
	}
}

func TestPosteriorProperties(t *testing.T) {
	r := seeded(80)
	for range 50 {
		prior := []float64{r.Float64(), r.Float64(), r.Float64()}
		a := []float64{r.Float64(), r.Float64(), r.Float64()}
		b := []float64{r.Float64(), r.Float64(), r.Float64()}
		once, _ := Posterior(prior, a, b)
		half, _ := Posterior(prior, b)
		twice, _ := Posterior(half, a)
		scaled, _ := Posterior(affine(prior, 40, 0), affine(a, 1e-3, 0), b)
		var sum float64
		for i, p := range once {
			near(t, "in steps", twice[i], p, 1e-12)
			near(t, "scaled", scaled[i], p, 1e-12)
			sum += p
		}
		near(t, "sum", sum, 1, 1e-12)
	}
	// A thousand pieces of evidence must not underflow.
	var many [][]float64
	for range 1000 {
		many = append(many, []float64{1e-3, 2e-3})
	}
	if p, ok := Posterior([]float64{1, 1}, many...); !ok || p[1] != 1 {
		t.Errorf("many likelihoods: %v, %v", p, ok)
	}
	for _, l := range [][]float64{{0, 0}, {-1, 1}, {math.NaN(), 1}, {math.Inf(1), 1}} {
		if p, ok := Posterior([]float64{1, 1}, l); ok {
			t.Errorf("likelihoods %v give %v", l, p)
		}
	}
	if p, ok := Posterior([]float64{0, 1}, []float64{1, 1}); !ok || p[0] != 0 {
		t.Errorf("an impossible state gets %v", p)
	}
	mustPanic(t, "lengths", func() { Posterior([]float64{1}, []float64{1, 2}) })
}

// byBest takes the best of the actions, whatever the probabilities.
func byBest(utility [][]float64) func([]float64) float64 {
	return func(q []float64) float64 {
		_, u := BestAction(q, utility)
		return u
	}
}

// Thompson Lumber: Render, Stair, Hanna, Quantitative Analysis for Management,
// from memory; in thousands. The book prints EVSI 19.2 because it rounds the
// posteriors to .78 and .27; exact is 19.
func TestSampleInformationReference(t *testing.T) {
	prior := []float64{.5, .5}
	utility := [][]float64{{200, -180}, {100, -20}, {0, 0}}
	test := [][]float64{{.7, .2}, {.3, .8}}
	action, emv := BestAction(prior, utility)
	if action != 1 {
		t.Errorf("best action %d, want 1", action)
	}
	near(t, "EMV", emv, 40, 1e-12)
	near(t, "EVPI", EVPI(prior, byBest(utility)), 60, 1e-12)
	near(t, "EVSI", EVSI(prior, test, byBest(utility)), 19, 1e-12)
	good, _ := Posterior(prior, test[0])
	bad, _ := Posterior(prior, test[1])
	near(t, "P(good|pos)", good[0], .777778, 5e-7)
	near(t, "P(good|neg)", bad[0], .272727, 5e-7)
}

func TestSampleInformationProperties(t *testing.T) {
	r := seeded(81)
	for range 100 {
		p, _ := Posterior([]float64{r.Float64(), r.Float64(), r.Float64()})
		utility := [][]float64{normals(r, 3), normals(r, 3), normals(r, 3), normals(r, 3)}
		test := [][]float64{make([]float64, 3), make([]float64, 3)}
		for s := range 3 {
			test[0][s] = r.Float64()
			test[1][s] = 1 - test[0][s]
		}
		best := byBest(utility)
		perfect, sample := EVPI(p, best), EVSI(p, test, best)
		if sample < -1e-12 || sample > perfect+1e-12 {
			t.Errorf("EVSI %v outside 0..%v", sample, perfect)
		}
		near(t, "no information", EVSI(p, [][]float64{{.4, .4, .4}, {.6, .6, .6}}, best), 0, 1e-12)
		near(t, "all information", EVSI(p, [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, best), perfect, 1e-12)
	}
	if a, u := BestAction([]float64{1}, nil); a != -1 || !math.IsNaN(u) {
		t.Errorf("no actions: %d, %v", a, u)
	}
	if v := EVPI([]float64{1}, byBest(nil)); !math.IsNaN(v) {
		t.Errorf("no actions: EVPI %v", v)
	}
	// A rule that acts from one half on and gains the probability then. At 0.4
	// it does not act; the first result, 0.44 of all, makes 0.32/0.44 of it.
	rule := func(q []float64) float64 {
		if q[0] >= 0.5 {
			return q[0]
		}
		return 0
	}
	near(t, "by a rule", EVSI([]float64{.4, .6}, [][]float64{{.8, .2}, {.2, .8}}, rule), .32, 1e-12)
	mustPanic(t, "row", func() { BestAction([]float64{1}, [][]float64{{1, 2}}) })
}
