package stats

import (
	"math"
	"math/bits"
	"slices"
)

// Select puts the value that sorting would put at k there, none larger before
// it and none smaller behind: Hoare's FIND (Communications of the ACM 4, 1961),
// in a time in proportion to the length. Where the pivots turn out badly again and
// again, or values are no numbers, it sorts; NaN comes first then.
func Select(s []float64, k int) {
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

// middleOf is the one of three values between the others.
func middleOf(a, b, c float64) float64 {
	return max(min(a, b), min(max(a, b), c))
}
