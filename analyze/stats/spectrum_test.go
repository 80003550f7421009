package stats

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/floats"
)

func TestLombScargleProperties(t *testing.T) {
	r := seeded(40)
	at, y := normals(r, 40), normals(r, 40)
	w := []float64{0.3, 1, 2.5}
	plain := LombScargle(nil, at, y, w)
	later := LombScargle(nil, affine(at, 1, 50), affine(y, 1, 9), w)
	slower := LombScargle(nil, affine(at, 4, 0), affine(y, -3, 0), affine(w, 0.25, 0))
	for i, p := range plain {
		near(t, "shifted", later[i], p, 1e-9)
		near(t, "scaled", slower[i], 9*p, 1e-9)
	}
	// On an even grid, at the Fourier frequencies, it is the periodogram.
	even := normals(r, 64)
	coeff := fourier.NewFFT(64).Coefficients(nil, even)
	for k := 1; k < 32; k++ {
		p := LombScargle(nil, index(64, 0), even, []float64{2 * math.Pi * float64(k) / 64})
		a := cmplx.Abs(coeff[k])
		near(t, "even grid", p[0], a*a/64, 1e-10)
		near(t, "Goertzel bin", Goertzel(even, float64(k)/64), a*a, 1e-9)
	}
	for _, v := range LombScargle(nil, []float64{0, 1}, []float64{1, math.NaN()}, w) {
		if !math.IsNaN(v) {
			t.Errorf("NaN data give %v", v)
		}
	}
	mustPanic(t, "lengths", func() { LombScargle(nil, at, nil, w) })
}

// scipy.signal.lombscargle, equal to the direct formula.
func TestLombScargleReference(t *testing.T) {
	at := []float64{0, 0.7, 1.1, 1.9, 2.6, 3.1, 4.2, 4.8, 5.5, 6.3}
	y := []float64{0.1, 1.2, 1.9, 1.1, -0.4, -1.6, -1.3, 0.2, 1.6, 1.5}
	want := []float64{0.7576309619, 4.4543289597, 5.8752046613, 5.3279765923, 0.3107453471}
	share := []float64{0.1107566643, 0.6511700840, 0.8588852659, 0.7788870101, 0.0454272856}
	var power float64
	for _, v := range y {
		power += (v - 0.43) * (v - 0.43)
	}
	for i, p := range LombScargle(nil, at, y, []float64{0.5, 1, 1.4, 1.5, 2}) {
		near(t, "P", p, want[i], 5e-11)
		near(t, "normalised", 2*p/power, share[i], 5e-11)
	}
	grid := affine(index(20000, 1), 1e-4, 0)
	p := LombScargle(nil, at, y, grid)
	peak := floats.MaxIdx(p)
	near(t, "peak frequency", grid[peak], 1.3393, 1e-9)
	near(t, "peak", p[peak], 5.958510873, 5e-10)
}

func TestGoertzelReference(t *testing.T) {
	// Tone table of the two-tone dialling scheme, N = 205. Several public
	// tables print 1.635585 for k = 20, with two digits swapped.
	want := map[int]float64{18: 1.703275, 20: 1.635859, 22: 1.562297, 24: 1.482867,
		31: 1.163138, 34: 1.008835, 38: 0.790074, 42: 0.559454}
	for k, c := range want {
		near(t, "coefficient", goertzelCoefficient(float64(k)/205), c, 5.1e-7)
	}
	// numpy.fft
	x := []float64{1, 2, 3, 4, 3, 2, 1, 0}
	for k, p := range []float64{256, 46.627417, 0, 1.372583, 0} {
		near(t, "power", Goertzel(x, float64(k)/8), p, 2e-8)
	}
	if p := Goertzel([]float64{1, math.NaN()}, 0.1); !math.IsNaN(p) {
		t.Errorf("NaN data give %v", p)
	}
}

// scipy.signal.welch, and closed forms.
func TestWelchReference(t *testing.T) {
	x := make([]float64, 400)
	for n := range x {
		x[n] = 2*math.Sin(2*math.Pi*12.5*float64(n)/100) + 0.5
	}
	freq, p, ok := Welch(x, 100, 128)
	if !ok || len(p) != 65 || len(freq) != 65 {
		t.Fatalf("ok %v, %d bins", ok, len(p))
	}
	peak := floats.MaxIdx(p)
	near(t, "peak frequency", freq[peak], 12.5, 1e-12)
	near(t, "peak", p[peak], 1.706666667, 5e-10)
	near(t, "below", p[peak-1], 0.426666667, 5e-10)
	near(t, "above", p[peak+1], 0.426666667, 5e-10)
	near(t, "power", floats.Sum(p)*100/128, 2, 1e-9)
}

func TestWelchProperties(t *testing.T) {
	x := normals(seeded(41), 20000)
	for _, segment := range []int{64, 63} {
		_, p, ok := Welch(x, 50, segment)
		if !ok {
			t.Fatal("not ok")
		}
		// White noise of variance 1: the integral is the variance, less the
		// little that goes with each segment's mean.
		near(t, "variance", floats.Sum(p)*50/float64(segment), 1, 0.05)
		_, q, _ := Welch(affine(x, 3, 100), 50, segment)
		for k := range p {
			near(t, "scaled", q[k], 9*p[k], 1e-9)
		}
	}
	if _, _, ok := Welch(x[:63], 50, 64); ok {
		t.Error("ok with less than one segment")
	}
	if _, _, ok := Welch([]float64{1, 2, math.NaN(), 4}, 1, 4); ok {
		t.Error("ok with NaN")
	}
	mustPanic(t, "segment", func() { Welch(x, 50, 3) })
}

func TestSineFitProperties(t *testing.T) {
	r := seeded(42)
	for range 30 {
		f, a, phase := 0.5+r.Float64(), 0.1+r.Float64(), 6*r.Float64()-3
		at := make([]float64, 50)
		y := make([]float64, 50)
		for i := range at {
			at[i] = 10 * r.Float64()
			y[i] = a*math.Cos(2*math.Pi*f*at[i]+phase) - 4
		}
		three, ok := SineFit3(at, y, f)
		if !ok {
			t.Fatal("three-parameter fit failed")
		}
		near(t, "amplitude", three.Amplitude, a, 1e-10)
		near(t, "phase", three.Phase, phase, 1e-9)
		near(t, "offset", three.C, -4, 1e-10)
		four, ok := SineFit4(at, y, f+0.02)
		if !ok {
			t.Fatal("four-parameter fit failed")
		}
		near(t, "frequency", four.F, f, 1e-10)
		near(t, "amplitude", four.Amplitude, a, 1e-9)
		near(t, "residual", four.RMS, 0, 1e-9)
	}
}

// numpy.linalg.lstsq and scipy curve_fit.
func TestSineFitReference(t *testing.T) {
	at := affine(index(20, 0), 0.1, 0)
	y := []float64{4.91, 4.48, 3.76, 2.9, 2.06, 1.4, 1.04, 1.06, 1.44, 2.12,
		2.97, 3.83, 4.52, 4.93, 4.97, 4.63, 3.99, 3.15, 2.29, 1.56}
	s, ok := SineFit3(at, y, 0.7)
	if !ok {
		t.Fatal("three-parameter fit failed")
	}
	near(t, "A", s.A, 1.91032133, 5e-9)
	near(t, "B", s.B, -0.59150911, 5e-9)
	near(t, "C", s.C, 2.99950659, 5e-9)
	near(t, "amplitude", s.Amplitude, 1.99980264, 5e-9)
	near(t, "phase", s.Phase, 0.30027587, 5e-9)
	near(t, "rms", s.RMS, 0.002343717, 5e-10)

	// The iterates of f from 0.68.
	s, _ = SineFit3(at, y, 0.68)
	for _, f := range []float64{0.699623137, 0.700040972, 0.700043264} {
		p, ok := sineSolve(at, y, s, 4)
		if !ok {
			t.Fatal("step failed")
		}
		s = Sine{F: s.F + p[3]/(2*math.Pi), A: p[0], B: p[1], C: p[2]}
		near(t, "iterate", s.F, f, 5e-10)
	}
	s, ok = SineFit4(at, y, 0.68)
	if !ok {
		t.Fatal("four-parameter fit failed")
	}
	near(t, "f", s.F, 0.7000432634, 5e-11)
	near(t, "A", s.A, 1.91043135, 5e-9)
	near(t, "B", s.B, -0.59097376, 5e-9)
	near(t, "C", s.C, 2.99950066, 5e-9)
	near(t, "rms", s.RMS, 0.002332240, 5e-10)

	// The uniform quantiser's noise q/sqrt(12), by the effective number of bits
	// of IEEE 1057 (definition from memory): a 5 V, 10 bit converter.
	const n, q = 4096, 5.0 / 1024
	wave := make([]float64, n)
	for i := range wave {
		wave[i] = math.RoundToEven((2.5+2.4*math.Sin(2*math.Pi*101*float64(i)/n))/q) * q
	}
	s, ok = SineFit3(index(n, 0), wave, 101.0/n)
	if !ok {
		t.Fatal("fit of the quantised sine failed")
	}
	near(t, "offset", s.C, 2.5, 5e-7)
	near(t, "amplitude", s.Amplitude, 2.400009, 5e-7)
	near(t, "residual", s.RMS, 0.001415640288, 5e-13)
	near(t, "bits", 10-math.Log2(s.RMS/(q/math.Sqrt(12))), 9.993776404, 5e-10)
	near(t, "bits by range", math.Log2(5/(s.RMS*math.Sqrt(12))), 9.993776404, 5e-10)

	// Lew (NIST): the least-squares optimum by scipy curve_fit, whose stopping
	// rule (1e-8 of the cost) leaves the parameters good to about 1e-7. The
	// parameters printed in NIST/SEMATECH e-Handbook 1.4.2.5 are not the
	// optimum: only their frequency is a check, to 0.001.
	s, ok = SineFit4(index(200, 1), lew(), 0.30)
	if !ok {
		t.Fatal("fit of Lew failed")
	}
	near(t, "Lew C", s.C, -178.768159, 1e-7)
	near(t, "Lew amplitude", s.Amplitude, 343.288573, 1e-7)
	near(t, "Lew frequency", s.F, 0.301807064, 1e-7)
	if stopped, _ := SineFit3(index(200, 1), lew(), 0.301807064); s.RMS > stopped.RMS {
		t.Errorf("Lew: residual %.12g above curve_fit's %.12g", s.RMS, stopped.RMS)
	}
	near(t, "Lew residual", s.RMS*math.Sqrt(200.0/196), 134.066401, 5e-9)
	near(t, "handbook frequency", s.F, 0.302596, 1e-3)
	// Published as -343.288573*sin(2*pi*f*t + 1.82764650).
	near(t, "Lew phase", math.Sin(s.Phase-(1.82764650+math.Pi/2)), 0, 1e-4)
	near(t, "Lew phase", math.Cos(s.Phase-(1.82764650+math.Pi/2)), 1, 1e-7)
}

func TestSineFitTrouble(t *testing.T) {
	for _, c := range []struct{ t, y []float64 }{
		{nil, nil}, {[]float64{0, 1}, []float64{1, 2}},
		{[]float64{0, 1, 2, 3}, []float64{1, 2, 1, math.NaN()}},
		{[]float64{1, 1, 1, 1}, []float64{1, 2, 1, 2}},
		{[]float64{0, 0, 0, 0}, []float64{1, 2, 1, 2}},
	} {
		if s, ok := SineFit3(c.t, c.y, 0.2); ok {
			t.Errorf("SineFit3(%v, %v) = %+v", c.t, c.y, s)
		}
		if s, ok := SineFit4(c.t, c.y, 0.2); ok {
			t.Errorf("SineFit4(%v, %v) = %+v", c.t, c.y, s)
		}
	}
	mustPanic(t, "lengths", func() { SineFit3([]float64{1}, nil, 1) })
}
