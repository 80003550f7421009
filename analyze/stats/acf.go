package stats

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// acfDirectMax is the number of products (samples times lags) up to which the
// autocorrelation is summed directly; see BenchmarkACF for the crossing.
const acfDirectMax = 1 << 16

// ACF stores in dst the autocorrelation of x at lags 0..maxLag, biased form:
// the sum of (x[t]-m)*(x[t+k]-m) over the sum of (x[t]-m)^2. The biased form
// damps long lags, whose few products would otherwise be mostly noise, and
// keeps every value within [-1, 1].
//
// Long series go through the Fourier transform of the zero-padded series,
// which gives the same sums. A constant or empty x, or NaN or infinity, gives
// NaN everywhere; lags not below len(x) are 0. It panics if maxLag is negative
// or dst is neither nil nor of length maxLag+1.
//
// Source: Box G.E.P., Jenkins G.M., Time Series Analysis, Holden-Day 1976,
// sec. 2.1.
func ACF(dst, x []float64, maxLag int) []float64 {
	if maxLag < 0 {
		panic("stats: negative lag")
	}
	dst = useDst(dst, maxLag+1)
	if len(x) == 0 || !finite(x) {
		return fill(dst, math.NaN())
	}
	dev := deviations(x)
	if len(x)*(maxLag+1) <= acfDirectMax {
		acfDirect(dst, dev)
	} else {
		acfFFT(dst, dev)
	}
	var power float64
	for _, d := range dev {
		power += d * d
	}
	if power == 0 {
		return fill(dst, math.NaN())
	}
	for k := range dst {
		dst[k] /= power
	}
	dst[0] = 1
	return dst
}

// deviations returns x less its mean, the mean corrected once for rounding.
func deviations(x []float64) []float64 {
	n := float64(len(x))
	first := x[0] // takes off most of a large offset exactly
	var mean float64
	dev := make([]float64, len(x))
	for i, v := range x {
		dev[i] = v - first
		mean += dev[i]
	}
	mean /= n
	var left float64
	for i := range dev {
		dev[i] -= mean
		left += dev[i]
	}
	for i := range dev {
		dev[i] -= left / n
	}
	return dev
}

func acfDirect(dst, dev []float64) {
	for k := range dst {
		var sum float64
		for t := 0; t+k < len(dev); t++ {
			sum += dev[t] * dev[t+k]
		}
		dst[k] = sum
	}
}

func acfFFT(dst, dev []float64) {
	// Padding by the longest lag keeps the circular products apart.
	size := 1
	for size < len(dev)+len(dst) {
		size *= 2
	}
	padded := make([]float64, size)
	copy(padded, dev)
	fft := fourier.NewFFT(size)
	coeff := fft.Coefficients(nil, padded)
	for i, c := range coeff {
		re, im := real(c), imag(c)
		coeff[i] = complex(re*re+im*im, 0)
	}
	fft.Sequence(padded, coeff)
	for k := range dst {
		dst[k] = 0
		if k < len(dev) {
			dst[k] = padded[k] / float64(size) // gonum leaves the scale in
		}
	}
}
