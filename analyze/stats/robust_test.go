package stats

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
)

func TestRobustProperties(t *testing.T) {
	r := seeded(60)
	type estimator struct {
		name  string
		f     func([]float64) float64
		scale bool
	}
	for _, e := range []estimator{
		{"Median", Median, false}, {"MAD", MAD, true},
	} {
		for n := 2; n < 40; n++ {
			x := normals(r, n)
			kept := slices.Clone(x)
			v := e.f(x)
			if !slices.Equal(x, kept) {
				t.Fatalf("%s changes its input", e.name)
			}
			moved := e.f(affine(x, -3, 7))
			if e.scale {
				near(t, e.name+" moved", moved, 3*v, 1e-10)
			} else {
				near(t, e.name+" moved", moved, 7-3*v, 1e-10)
				if lo, hi := slices.Min(x), slices.Max(x); v < lo || v > hi {
					t.Errorf("%s = %v outside %v..%v", e.name, v, lo, hi)
				}
			}
			r.Shuffle(n, func(i, j int) { x[i], x[j] = x[j], x[i] })
			near(t, e.name+" shuffled", e.f(x), v, 1e-12)
		}
		// One wild value in twenty moves a robust estimate by less than 1.
		x := normals(r, 20)
		clean := e.f(x)
		x[3] = 1e9
		if d := math.Abs(e.f(x) - clean); !(d < 1) {
			t.Errorf("%s: one wild value moves it by %v", e.name, d)
		}
		if v := e.f(nil); !math.IsNaN(v) {
			t.Errorf("%s(nil) = %v", e.name, v)
		}
		if v := e.f([]float64{1, 2, math.NaN()}); !math.IsNaN(v) {
			t.Errorf("%s with NaN = %v", e.name, v)
		}
		same := e.f([]float64{4, 4, 4, 4, 4})
		if e.scale && same != 0 || !e.scale && same != 4 {
			t.Errorf("%s of equal values = %v", e.name, same)
		}
		// Of many values the estimate is that of N(0,1), within six standard
		// errors of a scale from 1500 of them.
		want := 0.0
		if e.scale {
			want = 1
		}
		near(t, e.name+" of many", e.f(normals(r, 4000)), want, 0.1)
	}
}

// R, and scipy median_abs_deviation on the copper data.
func TestRobustReference(t *testing.T) {
	x := chem()
	mean, sd := stat.MeanStdDev(x, nil)
	near(t, "mean", mean, 4.280416667, 5e-10)
	near(t, "sd", sd, 5.297395980, 5e-10)
	near(t, "median", Median(x), 3.385, 1e-12)
	near(t, "MAD", MAD(x), 0.526323788, 5e-10)
}

func TestQuantile(t *testing.T) {
	x := []float64{4, 1, 3, 2}
	// Definition 7 written out: position 3p.
	for _, c := range []struct{ p, want float64 }{{0, 1}, {0.25, 1.75}, {0.5, 2.5}, {0.9, 3.7}, {1, 4}} {
		near(t, "quantile", Quantile(x, c.p), c.want, 1e-15)
	}
	mustPanic(t, "p", func() { Quantile(x, 1.1) })
	mustPanic(t, "NaN p", func() { Quantile(x, math.NaN()) })
}

func TestRanks(t *testing.T) {
	got := Ranks(nil, []float64{3, 1, 3, 2, 3})
	if want := []float64{4, 1, 4, 2, 4}; !slices.Equal(got, want) {
		t.Errorf("ranks %v, want %v", got, want)
	}
	x := []float64{5, 4, 6}
	if Ranks(x, x); !slices.Equal(x, []float64{2, 1, 3}) {
		t.Errorf("in place: %v", x)
	}
}

// NIST Statistical Reference Datasets, univariate: certified mean, standard
// deviation and lag-1 autocorrelation.
func TestCertifiedUnivariate(t *testing.T) {
	accuracy := func(first, low, high float64) []float64 {
		x := []float64{first}
		for range 500 {
			x = append(x, low, high)
		}
		return x
	}
	for _, c := range []struct {
		name           string
		x              []float64
		mean, sd, lag1 float64
		tol            float64 // relative error left by the decimal data themselves
	}{
		{"Lew", lew(), -177.435, 277.332168044316, -0.307304800605679, 1e-14},
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1, -0.5, 1e-15},
		{"NumAcc2", accuracy(1.2, 1.1, 1.3), 1.2, 0.1, -0.999, 1e-13},
		{"NumAcc3", accuracy(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, -0.999, 1e-8},
		{"NumAcc4", accuracy(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, -0.999, 1e-7},
	} {
		mean, sd := stat.MeanStdDev(c.x, nil)
		near(t, c.name+" mean", mean, c.mean, 1e-14)
		near(t, c.name+" sd", sd/c.sd, 1, c.tol)
		near(t, c.name+" lag 1", ACF(nil, c.x, 1)[1], c.lag1, c.tol)
	}
}

// NIST Statistical Reference Datasets, linear regression: Norris.
func TestCertifiedRegression(t *testing.T) {
	x, y := norris()
	b0, b1 := stat.LinearRegression(x, y, nil, false)
	near(t, "B0", b0, -0.262323073774029, 1e-11)
	near(t, "B1", b1, 1.00211681802045, 1e-13)
	var rss, sxx float64
	meanX := stat.Mean(x, nil)
	for i := range x {
		d := y[i] - b0 - b1*x[i]
		rss += d * d
		sxx += (x[i] - meanX) * (x[i] - meanX)
	}
	s := math.Sqrt(rss / 34)
	near(t, "residual sd", s, 0.884796396144373, 1e-12)
	near(t, "sd of B0", s*math.Sqrt(1.0/36+meanX*meanX/sxx), 0.232818234301152, 1e-12)
	near(t, "sd of B1", s/math.Sqrt(sxx), 0.000429796848199937, 1e-15)
	r2 := stat.RSquared(x, y, nil, b0, b1)
	near(t, "R^2", r2, 0.999993745883712, 1e-14)
	near(t, "F", b1*b1*sxx/(s*s), 5436385.54079785, 1e-11)
}
