package stats

import (
	"math"
	"slices"
)

// MADScale makes the median absolute deviation of normal data its standard
// deviation: 1/Phi^-1(3/4).
const MADScale = 1.482602218505602

// Median returns the middle value of x, or the mean of the two middle ones. An
// empty x, or NaN inside, gives NaN.
func Median(x []float64) float64 { return Quantile(x, 0.5) }

// Quantile returns the p-quantile of x by linear interpolation between order
// statistics: position (n-1)*p counted from 0. An empty x, or NaN inside,
// gives NaN. It panics if p is outside [0, 1].
//
// Source: definition 7 of Hyndman R.J., Fan Y., The American Statistician 50
// (1996) 361. It makes the 0.5-quantile the usual median.
func Quantile(x []float64, p float64) float64 {
	if !(p >= 0 && p <= 1) {
		panic("stats: quantile outside [0, 1]")
	}
	return quantileIn(slices.Clone(x), p)
}

// quantileIn is the p-quantile of what it leaves in another order.
func quantileIn(s []float64, p float64) float64 {
	if len(s) == 0 {
		return math.NaN()
	}
	k := int(float64(len(s)-1) * p)
	Select(s, k)
	if s[0] != s[0] { // NaN comes first
		return math.NaN()
	}
	if k+1 < len(s) { // the least behind it, where sorting would put it
		for i := k + 2; i < len(s); i++ {
			if s[i] < s[k+1] {
				s[i], s[k+1] = s[k+1], s[i]
			}
		}
	}
	return sortedQuantile(s, p)
}

func sortedQuantile(sorted []float64, p float64) float64 {
	pos := float64(len(sorted)-1) * p
	k := int(pos)
	frac := pos - float64(k)
	if frac == 0 || k+1 == len(sorted) || sorted[k] == sorted[k+1] {
		return sorted[k] // equal infinities have no difference
	}
	return sorted[k] + frac*(sorted[k+1]-sorted[k])
}

// MAD returns the median absolute deviation from the median, times [MADScale].
// An empty x, or NaN inside, gives NaN.
//
// Source: Hampel F.R., J. Amer. Statist. Assoc. 69 (1974) 383.
func MAD(x []float64) float64 {
	dev := slices.Clone(x)
	m := quantileIn(dev, 0.5)
	for i, v := range x {
		dev[i] = math.Abs(v - m)
	}
	return MADScale * quantileIn(dev, 0.5)
}
