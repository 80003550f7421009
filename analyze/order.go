package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// medianOf is the median, NaN of nothing. x stays as it is.
func medianOf(x []float64) float64 {
	return medianIn(slices.Clone(x))
}

// medianIn is the median of what nobody asks for afterwards: it leaves s in another order.
func medianIn(s []float64) float64 {
	if len(s) == 0 {
		return math.NaN()
	}
	k := len(s) / 2
	stats.Select(s, k)
	if len(s)%2 == 1 {
		return s[k]
	}
	// As the mean of the two in the middle: the lower one is the largest before.
	low := s[k-1]
	for _, v := range s[:k] {
		if v > low {
			low = v
		}
	}
	return (low + s[k]) / 2
}

// quantileOf is the q-quantile by linear interpolation. x stays as it is.
func quantileOf(x []float64, q float64) float64 {
	return quantileIn(slices.Clone(x), q)
}

// quantileIn is the q-quantile of what nobody asks for afterwards but for the order of its
// sizes: it leaves s in another order.
func quantileIn(s []float64, q float64) float64 {
	if len(s) == 0 {
		return math.NaN()
	}
	p := q * float64(len(s)-1)
	k := int(p)
	if k >= len(s)-1 {
		stats.Select(s, len(s)-1)
		return s[len(s)-1]
	}
	stats.Select(s, k)
	next := s[k+1]
	for _, v := range s[k+1:] {
		if v < next {
			next = v
		}
	}
	return s[k] + (p-float64(k))*(next-s[k])
}

// exceeds tells whether x is more than y, or is known where y is not: what is not known
// takes the place of nothing.
func exceeds(x, y float64) bool { return x > y || math.IsNaN(y) && !math.IsNaN(x) }

// larger is the larger of two values, or the one that is known (NaN where none is).
func larger(x, y float64) float64 {
	if exceeds(y, x) {
		return y
	}
	return x
}

// lesser is the lesser of two values, or the one that is known (NaN where none is).
func lesser(x, y float64) float64 { return -larger(-x, -y) }
