package stats

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// exactKendallMax is the largest n for which [MannKendall] enumerates the
// permutation distribution: Gilbert (1987) tables it up to n = 10 and uses the
// normal approximation above.
const exactKendallMax = 10

// Monotone is the outcome of a Mann-Kendall test.
type Monotone struct {
	S   float64 // rising pairs minus falling pairs
	Var float64 // variance of S without trend, corrected for ties
	Tau float64 // Kendall's tau-b, in [-1, 1]
	Z   float64 // S less one, in units of its standard deviation

	// P is the two-sided probability of an S at least as far from zero when
	// there is no trend; Exact tells that it comes from all permutations.
	P     float64
	Exact bool
	// PNormal is the two-sided probability from Z alone.
	PNormal float64
}

// MannKendall tests the series y, in time order, for a monotone trend.
//
// For n <= 10 without ties P is exact, otherwise it is the normal
// approximation with continuity correction. Fewer than three values, or NaN or
// infinity among them, give NaN in every field. A constant series has S = 0
// and P = 1 but Tau NaN.
//
// Source: Gilbert R.O., Statistical Methods for Environmental Pollution
// Monitoring, Van Nostrand Reinhold 1987, sec. 16.4.
func MannKendall(y []float64) Monotone {
	n := len(y)
	if n < 3 || !finite(y) {
		v := math.NaN()
		return Monotone{S: v, Var: v, Tau: v, Z: v, P: v, PNormal: v}
	}
	ties := tieGroups(y)
	tied := 0
	for _, t := range ties {
		tied += t * (t - 1) / 2
	}
	pairs := n * (n - 1) / 2
	falling := inversions(slices.Clone(y), make([]float64, n), false)
	s := float64(pairs - tied - 2*falling)

	m := Monotone{S: s, Var: kendallVariance(n, nil, ties)}
	m.Tau = s / math.Sqrt(float64(pairs)*float64(pairs-tied))
	if s != 0 {
		m.Z = (s - math.Copysign(1, s)) / math.Sqrt(m.Var)
	}
	m.PNormal = math.Erfc(math.Abs(m.Z) / math.Sqrt2)
	m.P = m.PNormal
	if n <= exactKendallMax && tied == 0 {
		m.Exact = true
		m.P = math.Min(1, 2*kendallTail(n, int(math.Abs(s))))
	}
	return m
}

// kendallTail returns P(S >= s) for n values without ties and without trend,
// by counting the permutations with each number of inversions.
func kendallTail(n, s int) float64 {
	counts := inversionCounts(n)
	var tail, all float64
	for inv, c := range counts {
		all += c
		if n*(n-1)/2-2*inv >= s {
			tail += c
		}
	}
	return tail / all
}

// kendallVariance returns the variance of S between two unrelated series of
// length n with the given tie groups: Kendall M.G., Rank Correlation Methods,
// 4th ed., Griffin 1970, eq. 4.4. Without ties in one series it is the formula
// of Gilbert (1987), eq. 16.4.
func kendallVariance(n int, tiesX, tiesY []int) float64 {
	f := float64(n)
	sums := func(ties []int) (full, two, three float64) {
		for _, group := range ties {
			t := float64(group)
			full += t * (t - 1) * (2*t + 5)
			two += t * (t - 1)
			three += t * (t - 1) * (t - 2)
		}
		return full, two, three
	}
	fx, x2, x3 := sums(tiesX)
	fy, y2, y3 := sums(tiesY)
	v := (f*(f-1)*(2*f+5) - fx - fy) / 18
	v += x2 * y2 / (2 * f * (f - 1))
	if n > 2 {
		v += x3 * y3 / (9 * f * (f - 1) * (f - 2))
	}
	return v
}

// Slope is a robust straight line y = Slope*x + Intercept.
type Slope struct {
	Slope     float64 // units of y per unit of x
	Intercept float64 // units of y, Conover form: median(y) - Slope*median(x)
	// Low and High are the confidence limits of Slope. They are infinite when
	// the data are too few to bound it at the level asked for.
	Low, High float64
	Pairs     int // slopes the median was taken of
}

const (
	// allPairsMax is the longest series whose pair slopes are all stored:
	// 1500 points make 1.1 million slopes, 9 MB.
	allPairsMax = 1500
	// bisectMax is the longest series used in full. Longer ones are thinned to
	// this many evenly spaced points. The standard error of the rise over the
	// whole record is then sqrt(12/10000) = 3.5 % of the noise of one sample.
	bisectMax = 10000
)

// TheilSen fits the line whose slope is the median of the slopes of all pairs
// of points with different x, with Gilbert's confidence limits at the given
// level, such as 0.95.
//
// Up to 1500 points all slopes are sorted. Above, the same order statistics
// are found without storing slopes: the number of slopes not above b is the
// number of inversions of y - b*x, and b is bisected to the resolution of the
// numbers. Above 10000 points evenly spaced points (in order of x) are used.
//
// Fewer than two different x, or NaN or infinity, give NaN in every field. It
// panics if the lengths differ or level is outside (0, 1).
//
// Source: Sen P.K., J. Amer. Statist. Assoc. 63 (1968) 1379; limits Gilbert
// (1987) sec. 16.5; intercept Conover W.J., Practical Nonparametric
// Statistics, Wiley 1980.
func TheilSen(x, y []float64, level float64) Slope {
	mustMatch(len(x), len(y))
	mustFraction(level, "level")
	none := Slope{Slope: math.NaN(), Intercept: math.NaN(), Low: math.NaN(), High: math.NaN()}
	if !finite(x) || !finite(y) {
		return none
	}
	xs, ys := sortedByX(x, y)
	if len(xs) > bisectMax {
		xs, ys = thinPairs(xs, ys, bisectMax)
	}
	n := len(xs)
	tiesX := tieGroups(xs)
	pairs := n * (n - 1) / 2
	for _, t := range tiesX {
		pairs -= t * (t - 1) / 2
	}
	if pairs < 1 {
		return none
	}
	var kth func(k int) float64 // k-th smallest slope, from 1
	if n <= allPairsMax {
		slopes := pairSlopes(xs, ys)
		kth = func(k int) float64 { return slopes[k-1] }
	} else {
		kth = newSlopeFinder(xs, ys).kth
	}

	s := Slope{Pairs: pairs, Low: math.Inf(-1), High: math.Inf(1)}
	s.Slope = (kth((pairs+1)/2) + kth(pairs/2+1)) / 2
	s.Intercept = Median(y) - s.Slope*Median(x)
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	c := z * math.Sqrt(kendallVariance(n, tiesX, tieGroups(ys)))
	at := func(rank float64) float64 {
		k := int(rank)
		low := kth(k)
		if frac := rank - float64(k); frac > 0 {
			low += frac * (kth(k+1) - low)
		}
		return low
	}
	if lower := (float64(pairs) - c) / 2; lower >= 1 {
		s.Low = at(lower)
		s.High = at((float64(pairs)+c)/2 + 1)
	}
	return s
}

// sortedByX returns copies of x and y in order of x, then of y.
func sortedByX(x, y []float64) (xs, ys []float64) {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case x[a] < x[b] || (x[a] == x[b] && y[a] < y[b]):
			return -1
		case x[a] == x[b] && y[a] == y[b]:
			return 0
		}
		return 1
	})
	xs = make([]float64, len(x))
	ys = make([]float64, len(x))
	for i, k := range order {
		xs[i], ys[i] = x[k], y[k]
	}
	return xs, ys
}

// thinPairs keeps limit evenly spaced points, the first and last among them.
func thinPairs(x, y []float64, limit int) (xs, ys []float64) {
	for i := range limit {
		k := i * (len(x) - 1) / (limit - 1)
		xs, ys = append(xs, x[k]), append(ys, y[k])
	}
	return xs, ys
}

// pairSlopes returns the sorted slopes of all pairs of different x; x ascends.
func pairSlopes(x, y []float64) []float64 {
	slopes := make([]float64, 0, len(x)*(len(x)-1)/2)
	for i := range x {
		for j := i + 1; j < len(x); j++ {
			if dx := x[j] - x[i]; dx > 0 {
				slopes = append(slopes, (y[j]-y[i])/dx)
			}
		}
	}
	slices.Sort(slopes)
	return slopes
}

// slopeFinder finds order statistics of the pair slopes by counting.
type slopeFinder struct {
	x, y, r, buf []float64
	same         int     // pairs of identical points, which have no slope
	limit        float64 // no slope is steeper
	fine         float64 // resolution of the search
}

func newSlopeFinder(x, y []float64) *slopeFinder {
	f := &slopeFinder{x: x, y: y, r: make([]float64, len(x)), buf: make([]float64, len(x))}
	minDx := math.Inf(1)
	lo, hi := y[0], y[0]
	for i := range x {
		lo, hi = math.Min(lo, y[i]), math.Max(hi, y[i])
		if i > 0 && x[i] > x[i-1] {
			minDx = math.Min(minDx, x[i]-x[i-1])
		}
	}
	// Kept finite, so that the bracket can be halved.
	f.limit = math.Min((hi-lo)/minDx, math.MaxFloat64/4)
	// A slope changed by fine moves the far end of the line by 1e-13 of the
	// range of y, which is near the rounding of the counts.
	f.fine = 1e-13 * (hi - lo) / (x[len(x)-1] - x[0])
	for i := 0; i < len(x); {
		j := i + 1
		for j < len(x) && x[j] == x[i] && y[j] == y[i] {
			j++
		}
		f.same += (j - i) * (j - i - 1) / 2
		i = j
	}
	return f
}

// notAbove counts the slopes <= b.
func (f *slopeFinder) notAbove(b float64) int {
	for i, v := range f.x {
		f.r[i] = f.y[i] - b*(v-f.x[0])
	}
	return inversions(f.r, f.buf, true) - f.same
}

// kth returns the k-th smallest slope.
func (f *slopeFinder) kth(k int) float64 {
	lo, hi := -f.limit, f.limit
	for hi-lo > f.fine {
		mid := lo + (hi-lo)/2
		if mid == lo || mid == hi {
			break
		}
		if f.notAbove(mid) >= k {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}
