package stats

import (
	"math"
	"testing"
)

// direct is the definition of the autocorrelation, written out.
func direct(x []float64, maxLag int) []float64 {
	var mean, power float64
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		power += (v - mean) * (v - mean)
	}
	out := make([]float64, maxLag+1)
	for k := range out {
		for t := 0; t+k < len(x); t++ {
			out[k] += (x[t] - mean) * (x[t+k] - mean) / power
		}
	}
	return out
}

func TestACFProperties(t *testing.T) {
	r := seeded(20)
	for n := 2; n < 70; n++ {
		x := normals(r, n)
		want := direct(x, n+3)
		got := ACF(nil, x, n+3)
		far := ACF(nil, affine(x, -3, 1e5), n+3)
		padded := make([]float64, n+4)
		dev := deviations(x)
		acfFFT(padded, dev)
		plain := make([]float64, n+4)
		acfDirect(plain, dev)
		for k := range got {
			near(t, "acf", got[k], want[k], 1e-12)
			near(t, "acf of moved data", far[k], want[k], 1e-9)
			near(t, "FFT sum", padded[k], plain[k], 1e-11)
			if math.Abs(got[k]) > 1 {
				t.Errorf("n=%d lag %d: %v outside [-1, 1]", n, k, got[k])
			}
		}
	}
	// Long enough for the FFT to be chosen.
	x := normals(r, 3000)
	want := direct(x, 99)
	for k, v := range ACF(make([]float64, 100), x, 99) {
		near(t, "long acf", v, want[k], 1e-12)
	}
}

func TestACFTrouble(t *testing.T) {
	for _, x := range [][]float64{nil, {3}, {2, 2, 2}, {1, math.NaN()}, {1, math.Inf(1)}} {
		for _, v := range ACF(nil, x, 2) {
			if !math.IsNaN(v) {
				t.Errorf("ACF(%v) = %v, want NaN", x, v)
			}
		}
	}
	mustPanic(t, "lag", func() { ACF(nil, []float64{1, 2}, -1) })
	mustPanic(t, "dst", func() { ACF(make([]float64, 2), []float64{1, 2}, 2) })
}

func TestZeroCrossings(t *testing.T) {
	for _, c := range []struct {
		name    string
		x, want []float64
	}{
		{"none", []float64{1, 2, 3}, nil},
		{"interpolated", []float64{1, -1, 3}, []float64{0.5, 1.25}},
		{"through zero", []float64{1, 0, -1}, []float64{1}},
		{"run of zeros", []float64{1, 0, 0, -1}, []float64{1.5}},
		{"touch", []float64{1, 0, 1}, nil},
		{"ends", []float64{0, 1, 0}, nil},
		{"NaN", []float64{1, math.NaN(), -1}, nil},
	} {
		got := ZeroCrossings(c.x)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			near(t, c.name, got[i], c.want[i], 1e-15)
		}
	}
}

func TestRegularityReference(t *testing.T) {
	// Own worked examples; Lew (NIST), lynx and Nile (R datasets) by a numpy
	// implementation on the statsmodels acf.
	logLynx := lynx()
	for i, v := range logLynx {
		logLynx[i] = math.Log10(v)
	}
	for _, c := range []struct {
		name               string
		x                  []float64
		intervals          int
		period, r, rn, tol float64
	}{
		{"Lew", lew(), 10, 3.328858, 6.119347, 6.450358, 5e-7},
		{"lynx", lynx(), 10, 9.533126, 4.683844, 4.937205, 5e-7},
		{"log lynx", logLynx, 10, 9.523306, 6.320719, 6.662622, 5e-7},
		{"Nile", nile(), 4, 29.36, 0.229099, 0.264540, 5e-5},
	} {
		got, ok := Regularity(ACF(nil, c.x, len(c.x)-1))
		if !ok || got.Intervals != c.intervals {
			t.Errorf("%s: %+v, %v", c.name, got, ok)
		}
		near(t, c.name+" period", got.Period, c.period, c.tol*10)
		near(t, c.name+" R", got.R, c.r, c.tol)
		near(t, c.name+" RN", got.RN, c.rn, c.tol)
	}
	for _, c := range []struct {
		d             []float64
		period, r, rn float64
	}{
		{[]float64{10.2, 9.8, 10.1, 9.9, 10, 10.3, 9.7, 10, 10.1, 9.9}, 20, 18.257419, 19.245009},
		{[]float64{4, 9, 3, 12, 7, 2, 15, 5, 8, 6}, 14.2, 0.581850, 0.613323698},
	} {
		got, ok := regularityOf(c.d)
		if !ok {
			t.Errorf("%v: not ok", c.d)
		}
		near(t, "period", got.Period, c.period, 1e-12)
		near(t, "R", got.R, c.r, 5e-7)
		near(t, "RN", got.RN, c.rn, 5e-7)
	}
	want := []float64{0.764933, 2.488667, 4.185945, 5.704867, 7.451355, 9.131528, 10.673101, 12.427531,
		14.086241, 15.652896, 17.409221}
	at := ZeroCrossings(ACF(nil, lew(), 20))
	for i, w := range want {
		near(t, "Lew crossing", at[i], w, 5e-7)
	}
}

func TestRegularityTrouble(t *testing.T) {
	for _, acf := range [][]float64{nil, {1, 0.5, 0.1}, {1, -0.5, 0.2}, {math.NaN(), math.NaN()}} {
		if c, ok := Regularity(acf); ok || !math.IsNaN(c.R) {
			t.Errorf("Regularity(%v) = %+v, %v", acf, c, ok)
		}
	}
	if c, ok := Regularity([]float64{1, -1, 1, -1, 1}); !ok || !math.IsInf(c.R, 1) || c.Period != 2 {
		t.Errorf("equal intervals: %+v, %v", c, ok)
	}
}

func BenchmarkACF(b *testing.B) {
	for _, c := range []struct {
		name string
		n    int
	}{{"256", 256}, {"1024", 1024}, {"65536", 65536}} {
		x := normals(seeded(21), c.n)
		dev := deviations(x)
		dst := make([]float64, c.n/4)
		b.Run(c.name+"/chosen", func(b *testing.B) {
			for b.Loop() {
				ACF(dst, x, len(dst)-1)
			}
		})
		if c.n > 10000 {
			continue
		}
		b.Run(c.name+"/direct", func(b *testing.B) {
			for b.Loop() {
				acfDirect(dst, dev)
			}
		})
		b.Run(c.name+"/fft", func(b *testing.B) {
			for b.Loop() {
				acfFFT(dst, dev)
			}
		})
	}
}

// Starts of half cycles of 0.163 s, as rows of 25 ms round them: the median of the cycles
// is that of rows, their mean is right to the rounding over the whole time.
func TestUsualPeriod(t *testing.T) {
	const period, row = 0.326, 0.025
	var starts []float64
	for i := range 60 {
		starts = append(starts, row*math.Ceil(float64(i)*period/2/row))
	}
	near(t, "period of rounded starts", UsualPeriod(starts), period, 2*row/58)
	// A pause in the midst and one reversal that was lost.
	for i := 30; i < len(starts); i++ {
		starts[i] += 4
	}
	lost := append(append([]float64{}, starts[:10]...), starts[11:]...)
	near(t, "with a pause and a loss", UsualPeriod(lost), period, 0.01*period)
	near(t, "of two starts", UsualPeriod(starts[:2]), 0, 0)
}
