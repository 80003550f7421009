package stats

import (
	"math"

	"gonum.org/v1/gonum/stat/combin"
)

// FisherTwoSided returns the two-sided probability of a table of two rows,
// (a, b) and (c, d), with these margins, if rows and columns are unrelated:
// that of all tables no likelier than this one. An empty table gives 1. It
// panics if a count is negative.
//
// Source: Fisher R.A., Statistical Methods for Research Workers, 5th ed.,
// Oliver & Boyd 1934, sec. 21.02; the two-sided sum by Freeman G.H., Halton
// J.H., Biometrika 38 (1951) 141.
func FisherTwoSided(a, b, c, d int) float64 {
	if a < 0 || b < 0 || c < 0 || d < 0 {
		panic("stats: negative count")
	}
	row, col, n := a+b, a+c, a+b+c+d
	if n == 0 {
		return 1
	}
	choose := func(n, k int) float64 { return combin.LogGeneralizedBinomial(float64(n), float64(k)) }
	h := func(x int) float64 { return math.Exp(choose(row, x) + choose(n-row, col-x) - choose(n, col)) }
	own := h(a)
	p := 0.0
	for x := max(0, row+col-n); x <= min(row, col); x++ {
		if q := h(x); q <= own*(1+1e-7) {
			p += q
		}
	}
	return math.Min(1, p)
}
