package stats

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"
)

// LombScargle stores in dst the periodogram of y, sampled at the times t in any
// spacing and order, at the angular frequencies w (rad per unit of t). The mean
// of y is removed first. The power is in units of y squared; 2*P/sum(y-mean)^2
// is the share of variance a sine of that frequency explains.
//
// No data, or NaN or infinity, or w = 0, give NaN. It panics if t and y differ
// in length.
//
// Source: Lomb N.R., Astrophys. Space Sci. 39 (1976) 447; Scargle J.D.,
// Astrophys. J. 263 (1982) 835.
func LombScargle(dst, t, y, w []float64) []float64 {
	mustMatch(len(t), len(y))
	dst = useDst(dst, len(w))
	if len(y) == 0 || !finite(t) || !finite(y) {
		return fill(dst, math.NaN())
	}
	dev := deviations(y)
	for k, omega := range w {
		var s2, c2 float64
		for _, at := range t {
			s, c := math.Sincos(2 * omega * (at - t[0]))
			s2 += s
			c2 += c
		}
		tau := math.Atan2(s2, c2) / (2 * omega)
		var yc, ys, cc, ss float64
		for i, at := range t {
			s, c := math.Sincos(omega * (at - t[0] - tau))
			yc += dev[i] * c
			ys += dev[i] * s
			cc += c * c
			ss += s * s
		}
		dst[k] = (part(yc, cc) + part(ys, ss)) / 2
	}
	return dst
}

// part returns a*a/b, or zero where the basis function vanishes at every
// sample: it then cannot explain anything.
func part(a, b float64) float64 {
	if b < 1e-20 {
		return 0
	}
	return a * a / b
}

// Goertzel returns |X(f)|^2, the squared magnitude of the Fourier sum of x at
// the frequency f in cycles per sample; k/len(x) is bin k of the transform.
// NaN or infinity gives NaN.
//
// Source: Goertzel G., Amer. Math. Monthly 65 (1958) 34-35.
func Goertzel(x []float64, f float64) float64 {
	if !finite(x) {
		return math.NaN()
	}
	c := goertzelCoefficient(f)
	var s1, s2 float64
	for _, v := range x {
		s1, s2 = v+c*s1-s2, s1
	}
	return s1*s1 + s2*s2 - c*s1*s2
}

func goertzelCoefficient(f float64) float64 { return 2 * math.Cos(2*math.Pi*f) }

// Welch estimates the one-sided power spectral density of x, sampled at rate
// (Hz): segments of the given length, half overlapped, mean removed, periodic
// Hann window, averaged. It returns the frequencies (Hz) and densities (units
// of x squared per Hz) of segment/2+1 bins. A tail shorter than half a segment
// is not used.
//
// ok is false if x is shorter than one segment or holds NaN or infinity. It
// panics unless segment >= 4 and rate > 0.
//
// Source: Welch P.D., IEEE Trans. Audio Electroacoust. 15 (1967) 70-73.
func Welch(x []float64, rate float64, segment int) (freq, density []float64, ok bool) {
	if segment < 4 || !(rate > 0) {
		panic("stats: bad segment length or rate")
	}
	if len(x) < segment || !finite(x) {
		return nil, nil, false
	}
	// The library's Hann window is symmetric; one longer and cut it is the
	// periodic one that belongs to a transform.
	win := fill(make([]float64, segment+1), 1)
	win = window.Hann(win)[:segment]
	var power float64
	for _, w := range win {
		power += w * w
	}
	fft := fourier.NewFFT(segment)
	density = make([]float64, segment/2+1)
	freq = make([]float64, len(density))
	buf := make([]float64, segment)
	var coeff []complex128
	count := 0
	for start := 0; start+segment <= len(x); start += segment - segment/2 {
		copy(buf, deviations(x[start:start+segment]))
		for i := range buf {
			buf[i] *= win[i]
		}
		coeff = fft.Coefficients(coeff, buf)
		for k, c := range coeff {
			density[k] += real(c)*real(c) + imag(c)*imag(c)
		}
		count++
	}
	for k := range density {
		freq[k] = fft.Freq(k) * rate
		density[k] /= rate * power * float64(count)
		if k > 0 && 2*k != segment {
			density[k] *= 2 // the negative frequencies
		}
	}
	return freq, density, true
}
