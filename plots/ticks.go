package plots

import (
	"math"
	"strconv"
	"strings"
)

// ticks returns round values within [lo, hi]: multiples of 1, 2 or 5 times a
// power of ten, at most most of them (at least two where possible), and the
// decimals they need.
func ticks(lo, hi float64, most int) (at []float64, decimals int) {
	// Between one and two steps there may be a single multiple or none: an
	// axis with one number has no scale.
	for n := most; n <= most+4; n++ {
		if at, decimals = multiples(lo, hi, n); len(at) > 1 {
			break
		}
	}
	return at, decimals
}

func multiples(lo, hi float64, most int) (at []float64, decimals int) {
	if !(hi > lo) || most < 1 || math.IsInf(hi-lo, 0) {
		return nil, 0
	}
	raw := (hi - lo) / float64(most)
	exp := math.Floor(math.Log10(raw))
	step := 0.0
	for _, m := range []float64{1, 2, 5, 10} {
		step = m * math.Pow(10, exp)
		if step >= raw*(1-1e-9) {
			break
		}
	}
	// Whole multiples, so that 0.3 is not 0.30000000000000004 away from 0.
	first, last := math.Ceil(lo/step-1e-9), math.Floor(hi/step+1e-9)
	if !(last-first <= float64(2*most+2)) {
		return nil, 0
	}
	for k := first; k <= last; k++ {
		at = append(at, k*step)
	}
	decimals = int(math.Max(0, -math.Floor(math.Log10(step)+1e-9)))
	return at, decimals
}

func tickText(x float64, decimals int) string {
	if x == 0 {
		x = 0 // no minus zero
	}
	// The sign of the trade is longer than a hyphen.
	return strings.Replace(strconv.FormatFloat(x, 'f', decimals, 64), "-", "−", 1)
}
