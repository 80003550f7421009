package stats

import (
	"math"
	"testing"
)

// wave returns cycles periods of shape, a function on the unit half cycle, with
// per samples a half period and alternating sign.
func wave(shape func(u float64) float64, per, halves int) []float64 {
	out := make([]float64, per*halves+2)
	for i := range out {
		k, u := i/per, float64(i%per)/float64(per)
		out[i] = shape(u)
		if k%2 == 1 {
			out[i] = -out[i]
		}
	}
	// A crossing needs a sign on both sides: one sample before the first zero.
	return append([]float64{-shape(1 - 1/float64(per))}, out...)
}

func halfSine(u float64) float64 { return math.Sin(math.Pi * u) }
func triangle(u float64) float64 { return 1 - math.Abs(2*u-1) }

// Area of half a sine period: closed form 2A/w, approached by the trapezium sum
// cot(pi/n)/n at n samples a period (numpy.trapz gives the first and last).
func TestHalfPeriodArea(t *testing.T) {
	for _, c := range []struct {
		perPeriod int
		want      float64
	}{{20, 0.315687576}, {50, 0.317890897}, {100, 0.318205160}} {
		halves := HalfPeriods(wave(halfSine, c.perPeriod/2, 6), 1/float64(c.perPeriod))
		if len(halves) != 6 {
			t.Fatalf("%d half periods, want 6", len(halves))
		}
		for i, h := range halves {
			near(t, "area", h.Area, c.want, 5e-10)
			near(t, "duration", h.Duration, 0.5, 1e-12)
			if want := 1 - 2*(i%2); h.Sign != want {
				t.Errorf("half %d has sign %d", i, h.Sign)
			}
		}
		if n := Loads(halves, 0.3); n != 6 {
			t.Errorf("%d loads above 0.3", n)
		}
		if n := Loads(halves, 0.32); n != 0 {
			t.Errorf("%d loads above 0.32", n)
		}
	}
	near(t, "2A/w", LoadLimit(1, 1), 0.318309886, 5e-10)
	near(t, "limit", LoadLimit(0.01, 1), 0.003183099, 5e-10)
	if h := HalfPeriods([]float64{1, -1}, 1); h != nil {
		t.Errorf("one crossing gives %v", h)
	}
}

// Adjacent half periods share nothing and leave nothing out.
func TestHalfPeriodsCoverTheSignal(t *testing.T) {
	x := normals(seeded(30), 500)
	halves := HalfPeriods(x, 0.5)
	for i, h := range halves {
		if h.Area <= 0 || h.Duration <= 0 || h.PeakRatio <= 0 {
			t.Fatalf("half %d: %+v", i, h)
		}
		if i > 0 && (h.Start != halves[i-1].End || h.Sign == halves[i-1].Sign) {
			t.Fatalf("half %d: %+v after %+v", i, h, halves[i-1])
		}
	}
	scaled := HalfPeriods(affine(x, -2, 0), 0.5)
	for i, h := range halves {
		near(t, "scaled area", scaled[i].Area, 2*h.Area, 1e-12)
		near(t, "scaled ratio", scaled[i].PeakRatio, h.PeakRatio, 1e-9)
	}
}

// Own worked example, alpha 0.6, gamma 0.75.
func TestForsmanStattin(t *testing.T) {
	a := []float64{1, 1.05, 0.95, 1.3, 0.98, 1.02}
	d := []float64{10, 10, 11, 10, 10, 9}
	b := []float64{1, 0.9, 1.1, 0.4, 1, 1}
	e := []float64{10, 11, 10, 10, 10, 10}
	var halves []HalfPeriod
	for i := range a {
		halves = append(halves, HalfPeriod{Sign: 1, Area: a[i], Duration: d[i]},
			HalfPeriod{Sign: -1, Area: b[i], Duration: e[i]})
	}
	near(t, "h", ForsmanStattin(halves, 0.6, 0.75), 8.0/12, 1e-15)
	if h := ForsmanStattin(nil, 0.6, 0.75); !math.IsNaN(h) {
		t.Errorf("no half periods give %v", h)
	}
	mustPanic(t, "alpha", func() { ForsmanStattin(nil, 1, 0.5) })
	// A long steady sine is alike but for the first half of each sign.
	steady := HalfPeriods(wave(halfSine, 20, 40), 1)
	near(t, "steady sine", ForsmanStattin(steady, 0.7, 0.8), 38.0/40, 1e-15)
}

func TestSinghalSalsbury(t *testing.T) {
	// Derived: a sine gives 1, a triangle with its peak at 70 % gives 7/3.
	near(t, "sine", SinghalSalsbury(HalfPeriods(wave(halfSine, 20, 8), 1)), 1, 1e-12)
	late := func(u float64) float64 { return math.Min(u/0.7, (1-u)/0.3) }
	near(t, "late triangle", SinghalSalsbury(HalfPeriods(wave(late, 20, 8), 1)), 7.0/3, 1e-12)
	if r := SinghalSalsbury(nil); !math.IsNaN(r) {
		t.Errorf("no half periods give %v", r)
	}
}

func TestHeShape(t *testing.T) {
	near(t, "triangle", HeShape(wave(triangle, 50, 6)), 1, 1e-12)
	near(t, "sine", HeShape(wave(halfSine, 50, 6)), 0, 1e-12)
	if s := HeShape([]float64{1, -1, 1, -1, 1}); !math.IsNaN(s) {
		t.Errorf("half periods of one sample give %v", s)
	}
	scaled := affine(wave(func(u float64) float64 { return math.Sqrt(u * (1 - u)) }, 40, 4), -7, 0)
	near(t, "scale", HeShape(scaled), HeShape(affine(scaled, 0.01, 0)), 1e-12)

	// Derived on the unit half cycle; the sums approach the integrals.
	const n = 20000
	sample := func(shape func(float64) float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = shape((float64(i) + 0.5) / n)
		}
		return out
	}
	errors := func(shape func(float64) float64) (float64, float64) {
		s, t := shapeErrors(sample(shape), 0.5, n)
		return s / n, t / n
	}
	p4, p2 := math.Pow(math.Pi, 4), math.Pi*math.Pi
	s, _ := errors(triangle)
	near(t, "sine on triangle", s, 1.0/3-32/p4, 1e-8)
	near(t, "printed", s, 0.004821901, 5e-8)
	_, tri := errors(halfSine)
	near(t, "triangle on sine", tri, 0.5-48/p4, 1e-8)
	near(t, "printed", tri, 0.007232852, 5e-8)
	s, tri = errors(func(float64) float64 { return 1 })
	near(t, "sine on rectangle", s, 1-8/p2, 1e-8)
	near(t, "triangle on rectangle", tri, 0.25, 1e-8)
	near(t, "rectangle", s/(s+tri), 0.431081862, 5e-8)
}

func TestYamashita(t *testing.T) {
	// Own worked example: IS IS II SI SS DS DS DD SD SS.
	in := []int{1, 1, 1, 0, 0, -1, -1, -1, 0, 0}
	out := []int{0, 0, 1, 1, 0, 0, 0, -1, -1, 0}
	near(t, "rho1", Yamashita(in, out), 0.5, 0)
	// All nine pairs equally often: 2 of the 8 that are not SS.
	in, out = nil, nil
	for a := -1; a <= 1; a++ {
		for b := -1; b <= 1; b++ {
			in, out = append(in, a), append(out, b)
		}
	}
	near(t, "unrelated", Yamashita(in, out), 0.25, 0)
	if r := Yamashita([]int{0}, []int{0}); !math.IsNaN(r) {
		t.Errorf("nothing moves: %v", r)
	}
	mustPanic(t, "lengths", func() { Yamashita(in, nil) })
}
