package stats

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// The worked example: eleven points, 5 V applied.
func track() (x, up, down []float64) {
	up = []float64{0.02, 0.52, 1.04, 1.53, 2.01, 2.50, 2.97, 3.48, 4.01, 4.52, 4.97}
	down = []float64{0.04, 0.55, 1.08, 1.56, 2.05, 2.54, 3.02, 3.52, 4.04, 4.55, 4.97}
	return affine(index(11, 0), 0.1, 0), affine(up, 0.2, 0), affine(down, 0.2, 0)
}

// Own worked example; the independent line by scipy.optimize.linprog.
func TestLinearityReference(t *testing.T) {
	x, up, down := track()
	near(t, "absolute", AbsoluteLinearity(x, up).Max, 0.008, 1e-12)
	near(t, "terminal", TerminalBased(x, up).Max, 0.009, 1e-12)
	zero := ZeroBased(x, up)
	near(t, "zero-based", zero.Max, 0.006, 1e-12)
	near(t, "zero-based slope", 5*zero.Slope, 4.966667, 5e-7)
	free := IndependentLinearity(x, up)
	near(t, "independent", free.Max, 0.00585714, 5e-9)
	near(t, "independent slope", 5*free.Slope, 4.971429, 5e-7)
	near(t, "independent intercept", 5*free.Intercept, 0.016429, 5e-7)
	b, a := stat.LinearRegression(x, up, nil, false)
	near(t, "least-squares slope", 5*a, 4.956364, 5e-7)
	near(t, "least-squares intercept", 5*b, 0.028182, 5e-7)
	near(t, "least squares", measured(x, up, a, b).Max, 0.0064, 1e-12)

	g := Hysteresis(x, up, down)
	near(t, "hysteresis", g.Max, 0.010, 1e-12)
	near(t, "hysteresis at", g.At, 0.6, 1e-12)
	near(t, "mean hysteresis", 5*g.Mean, 0.0318182, 5e-8)
	near(t, "backlash in travel", g.Mean/a, 0.00641966, 5e-9)
}

func TestLinearityProperties(t *testing.T) {
	r := seeded(50)
	for n := 2; n < 120; n += 3 {
		x := affine(normals(r, n), 0.2, 0.5)
		y := affine(normals(r, n), 0.01, 0)
		floats.Add(y, x)
		if n%2 == 0 { // converter steps make many collinear points
			for i := range x {
				x[i], y[i] = math.Round(256*x[i])/256, math.Round(256*y[i])/256
			}
		}
		if slices.Max(x) == slices.Min(x) {
			continue
		}
		free := IndependentLinearity(x, y)
		zero, terminal := ZeroBased(x, y), TerminalBased(x, y)
		b, a := stat.LinearRegression(x, y, nil, false)
		fit := measured(x, y, a, b)
		for _, other := range []Linearity{zero, terminal, fit, AbsoluteLinearity(x, y)} {
			if free.Max > other.Max+1e-15 {
				t.Errorf("n=%d: independent %v above %v", n, free.Max, other.Max)
			}
		}
		if zero.Max > terminal.Max+1e-15 {
			t.Errorf("n=%d: zero-based %v above terminal-based %v", n, zero.Max, terminal.Max)
		}
		// It is a minimum: no line through two of the points shifted to the
		// middle does better (the best one is among them).
		best := math.Inf(1)
		for i := range x {
			for j := range i {
				if x[i] == x[j] {
					continue
				}
				s := (y[i] - y[j]) / (x[i] - x[j])
				rest := Linearity{Slope: s}.Departures(nil, x, y)
				best = math.Min(best, (floats.Max(rest)-floats.Min(rest))/2)
			}
		}
		near(t, "best pair line", free.Max, best, 1e-12)
		// A change of slope and offset moves the line and leaves the departure.
		moved := affine(y, 2, 1)
		floats.AddScaled(moved, 0.5, x)
		m := IndependentLinearity(x, moved)
		near(t, "moved", m.Max, 2*free.Max, 1e-12)
		near(t, "moved slope", m.Slope, 2*free.Slope+0.5, 1e-9)
		// The zero-based slope is the best one: nudging it does not help.
		for _, nudge := range []float64{-1e-4, 1e-4} {
			first := floats.MinIdx(x)
			s := zero.Slope + nudge
			if l := measured(x, y, s, y[first]-s*x[first]); l.Max < zero.Max-1e-15 {
				t.Errorf("n=%d: slope %v is better than %v", n, s, zero.Slope)
			}
		}
	}
	// Repeated travels are allowed.
	l := IndependentLinearity([]float64{0, 0, 1, 1}, []float64{0, 0.2, 1, 1.2})
	near(t, "repeated travels", l.Max, 0.1, 1e-15)
}

// Own worked example.
func TestSmoothnessReference(t *testing.T) {
	x := affine(index(501, 0), 0.002, 0)
	r := affine(x, 1, 0)
	r[250] += 0.02 / 5
	r[251] -= 0.03 / 5
	s := Smoothness(x, AbsoluteLinearity(x, r).Departures(nil, x, r), 0.01)
	near(t, "departure", s.Departure, 0.006, 1e-12)
	near(t, "departure at", s.DepartureAt, 0.502, 1e-12)
	near(t, "peak to peak", s.PeakToPeak, 0.010, 1e-12)
	near(t, "peak at", s.PeakAt, 0.501, 1e-12)
}

func TestSmoothnessProperties(t *testing.T) {
	r := seeded(51)
	for n := 1; n < 100; n += 7 {
		x, d := normals(r, n), normals(r, n)
		for _, window := range []float64{0, 0.05, 0.5, 100} {
			s := Smoothness(x, d, window)
			var want float64
			for i := range x {
				for j := range x {
					if math.Abs(x[i]-x[j]) <= window {
						want = math.Max(want, d[i]-d[j])
					}
				}
			}
			near(t, "all pairs", s.PeakToPeak, want, 1e-15)
			near(t, "departure", s.Departure, floats.Norm(d, math.Inf(1)), 0)
		}
	}
	mustPanic(t, "window", func() { Smoothness(nil, nil, -1) })
}

func TestPotentiometerTrouble(t *testing.T) {
	bad := []float64{0, math.NaN()}
	for name, f := range map[string]func(x, r []float64) Linearity{
		"absolute": AbsoluteLinearity, "terminal": TerminalBased,
		"zero": ZeroBased, "independent": IndependentLinearity,
	} {
		for _, c := range []struct{ x, r []float64 }{{nil, nil}, {[]float64{0, 1}, bad}, {bad, []float64{0, 1}}} {
			if l := f(c.x, c.r); !math.IsNaN(l.Max) || !math.IsNaN(l.At) {
				t.Errorf("%s(%v, %v) = %+v", name, c.x, c.r, l)
			}
		}
		mustPanic(t, name, func() { f(bad, nil) })
	}
	if l := IndependentLinearity([]float64{1, 1}, []float64{0, 1}); !math.IsNaN(l.Max) {
		t.Errorf("one travel: %+v", l)
	}
	if s := Smoothness(nil, nil, 1); !math.IsNaN(s.PeakToPeak) {
		t.Errorf("no points: %+v", s)
	}
	if g := Hysteresis([]float64{0, 1}, bad, bad); !math.IsNaN(g.Max) {
		t.Errorf("NaN: %+v", g)
	}
}
