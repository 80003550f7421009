package analyze

import (
	"math"
	"math/bits"
	"slices"
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
	selectAt(s, k)
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
	if len(x) == 0 {
		return math.NaN()
	}
	s := slices.Clone(x)
	p := q * float64(len(s)-1)
	k := int(p)
	if k >= len(s)-1 {
		selectAt(s, len(s)-1)
		return s[len(s)-1]
	}
	selectAt(s, k)
	next := s[k+1]
	for _, v := range s[k+1:] {
		if v < next {
			next = v
		}
	}
	return s[k] + (p-float64(k))*(next-s[k])
}

// selectAt puts the value that sorting would put at k there, none larger before
// it and none smaller behind: Hoare's FIND (Communications of the ACM 4, 1961),
// in a time in proportion to the length. Where the pivots turn out badly again and
// again, or values are no numbers, it sorts.
func selectAt(s []float64, k int) {
	for _, v := range s {
		if math.IsNaN(v) {
			slices.Sort(s)
			return
		}
	}
	lo, hi := 0, len(s)-1
	for tries := 4 * bits.Len(uint(len(s))); hi-lo > 16 && tries > 0; tries-- {
		p := middleOf(s[lo], s[(lo+hi)/2], s[hi])
		i, j := lo, hi
		for i <= j {
			for s[i] < p {
				i++
			}
			for p < s[j] {
				j--
			}
			if i <= j {
				s[i], s[j] = s[j], s[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
	slices.Sort(s[lo : hi+1])
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

// middleOf is the one of three values between the others.
func middleOf(a, b, c float64) float64 {
	return max(min(a, b), min(max(a, b), c))
}
