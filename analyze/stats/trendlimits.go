package stats

import "math"

// SlopeLimits returns distribution-free confidence limits of the slope of y on
// x at the given level, such as 0.95, and whether the data bound it at that
// level.
//
// For up to 10 points they come from the exact distribution of Kendall's S: the
// k-th smallest and the k-th largest pair slope, k as large as the level lets
// it be. Four points reach 1 - 2/4! = 91.7 % at most and so have no 95 %
// limits; five reach 98.3 %. Equal values of y make the limits wider than they
// need be, never narrower. Above 10 points, or with equal x, they are those of
// [TheilSen].
//
// It panics if the lengths differ or level is outside (0, 1). NaN or infinity
// give ok false.
//
// Source: Sen P.K., J. Amer. Statist. Assoc. 63 (1968) 1379; Hollander M.,
// Wolfe D.A., Nonparametric Statistical Methods, Wiley 1973, sec. 9.3.
func SlopeLimits(x, y []float64, level float64) (low, high float64, ok bool) {
	mustMatch(len(x), len(y))
	mustFraction(level, "level")
	n := len(x)
	if !finite(x) || !finite(y) || n < 3 {
		return math.Inf(-1), math.Inf(1), false
	}
	xs, ys := sortedByX(x, y)
	if n > exactKendallMax || len(tieGroups(xs)) > 0 {
		s := TheilSen(x, y, level)
		return s.Low, s.High, !math.IsNaN(s.Low) && !math.IsInf(s.Low, 0) && !math.IsInf(s.High, 0)
	}
	slopes := pairSlopes(xs, ys)
	counts := inversionCounts(n)
	all := 0.0
	for _, c := range counts {
		all += c
	}
	// P(fewer than k of the pair slopes lie below the true one) is the tail of
	// the number of inversions of a random order.
	k, tail := 0, 0.0
	for _, c := range counts {
		if tail += c / all; 2*tail > 1-level {
			break
		}
		k++
	}
	if k == 0 {
		return math.Inf(-1), math.Inf(1), false
	}
	return slopes[k-1], slopes[len(slopes)-k], true
}
