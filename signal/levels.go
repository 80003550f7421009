package signal

import "math"

// levelBins is the histogram resolution of [StateLevels]: the level error of
// the mode method is half a bin, so 100 bins keep it within 0.5 % of range.
const levelBins = 100

// StateLevels finds the low and high state levels of a two-state waveform by
// the histogram mode method of IEEE Std 181: the range is cut into equal bins,
// the occupied range is halved, and each level is the centre of the fullest
// bin of its half. NaN values are passed over. ok is false when fewer than two
// finite values, or no range, are given; low and high are then equal.
//
// The error of each level is up to half a bin, (max-min)/200, by construction.
func StateLevels(x []float32) (low, high float64, ok bool) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range x {
		f := float64(v)
		if math.IsNaN(f) || math.IsInf(f, 0) {
			continue
		}
		lo, hi = math.Min(lo, f), math.Max(hi, f)
	}
	if !(hi > lo) {
		return lo, lo, false
	}
	var count [levelBins]int
	scale := levelBins / (hi - lo)
	for _, v := range x {
		f := float64(v)
		if math.IsNaN(f) || math.IsInf(f, 0) {
			continue
		}
		count[min(levelBins-1, int((f-lo)*scale))]++
	}
	mode := func(a, b int) float64 {
		best := a
		for i := a; i < b; i++ {
			if count[i] > count[best] {
				best = i
			}
		}
		return lo + (float64(best)+0.5)/scale
	}
	return mode(0, levelBins/2), mode(levelBins/2, levelBins), true
}
