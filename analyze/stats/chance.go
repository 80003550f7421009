package stats

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"
)

// RangePValue returns the probability that k independent positions, uniform on
// (0, 1), all fall within some window of width w: that their range (largest
// less smallest) is at most w.
//
// Derivation: take the smallest position u. Any of the k may be it, and the
// other k-1 must lie in (u, u+w), cut off at 1:
//
//	P = k * integral over u from 0 to 1 of min(w, 1-u)^(k-1)
//	  = k * (1-w) * w^(k-1) + w^k
//	  = k * w^(k-1) - (k-1) * w^k
//
// A width of 1 or more gives 1, of 0 or less 0 (for k = 1 always 1). A NaN
// width gives NaN. It panics unless k > 0.
func RangePValue(w float64, k int) float64 {
	switch {
	case k < 1:
		panic("stats: no positions")
	case w != w:
		return w
	case k == 1 || w >= 1:
		return 1
	case w <= 0:
		return 0
	}
	n := float64(k)
	// One power taken out: the difference would cancel as w nears 1.
	return math.Pow(w, n-1) * (1 + (n-1)*(1-w))
}

// BinomialTail returns the probability of k or more successes in n trials of
// probability p. A p outside [0, 1] or NaN gives NaN. It panics if n is
// negative.
func BinomialTail(k, n int, p float64) float64 {
	switch {
	case n < 0:
		panic("stats: negative number of trials")
	case !(p >= 0 && p <= 1):
		return math.NaN()
	case k <= 0:
		return 1
	case k > n:
		return 0
	}
	return mathext.RegIncBeta(float64(k), float64(n-k+1), p)
}

// FisherExact returns the one-sided probability of a table of two rows, (a, b)
// and (c, d), with these margins and a count of a or more in the first cell, if
// rows and columns are unrelated. An empty table gives 1. It panics if a count
// is negative.
//
// Source: Fisher R.A., Statistical Methods for Research Workers, 5th ed.,
// Oliver & Boyd 1934, sec. 21.02.
func FisherExact(a, b, c, d int) float64 {
	if a < 0 || b < 0 || c < 0 || d < 0 {
		panic("stats: negative count")
	}
	row, col, n := a+b, a+c, a+b+c+d
	choose := func(n, k int) float64 { return combin.LogGeneralizedBinomial(float64(n), float64(k)) }
	all := choose(n, col)
	var p float64
	for x := a; x <= min(row, col); x++ {
		p += math.Exp(choose(row, x) + choose(n-row, col-x) - all)
	}
	return math.Min(1, p)
}

// FisherCombined returns the probability that independent tests come out together as
// unlikely as with these probabilities, if what they test is so: that of a chi squared of
// two degrees of freedom for each, above -2 ln of their product. None give 1; it panics
// unless each is within [0, 1].
//
// Source: Fisher R.A., Statistical Methods for Research Workers, 5th ed.,
// Oliver & Boyd 1934, sec. 21.1.
func FisherCombined(p ...float64) float64 {
	x := 0.0
	for _, q := range p {
		if !(q >= 0 && q <= 1) {
			panic("stats: probability outside 0..1")
		}
		x -= math.Log(q)
	}
	if math.IsInf(x, 1) {
		return 0
	}
	term, sum := 1.0, 0.0
	for k := range p {
		if k > 0 {
			term *= x / float64(k)
		}
		sum += term
	}
	if len(p) == 0 {
		return 1
	}
	return math.Min(1, sum*math.Exp(-x))
}

// Wilson returns the confidence interval of a probability after k successes in
// n trials, at a level such as 0.95. It stays inside [0, 1] and is of use for
// small n. No trials give 0 and 1: nothing is known. It panics unless
// 0 <= k <= n and 0 < level < 1.
//
// Source: Wilson E.B., J. Amer. Statist. Assoc. 22 (1927) 209.
func Wilson(k, n int, level float64) (low, high float64) {
	if k < 0 || k > n {
		panic("stats: successes outside 0..n")
	}
	mustFraction(level, "level")
	if n == 0 {
		return 0, 1
	}
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	f := float64(n)
	p := float64(k) / f
	centre := (p + z*z/(2*f)) / (1 + z*z/f)
	half := z / (1 + z*z/f) * math.Sqrt(p*(1-p)/f+z*z/(4*f*f))
	low, high = math.Max(0, centre-half), math.Min(1, centre+half)
	// Exact at the ends, where rounding would leave 1e-17.
	if k == 0 {
		low = 0
	}
	if k == n {
		high = 1
	}
	return low, high
}
