package stats

import "math"

// SeasonalKendall tests several series for a common monotone trend, each
// compared with itself only: S is the sum of the single S. The series need not
// be on one level or of one length.
//
// With no ties and series of at most 10 values P is exact, from the sums of
// the permutation distributions; otherwise it is the normal approximation
// with continuity correction. Tau is S over its largest value. Series of fewer
// than two values add nothing; without any pair, or with NaN or infinity, every
// field is NaN.
//
// Source: Hirsch R.M., Slack J.R., Smith R.A., Water Resources Research 18
// (1982) 107 (from memory).
func SeasonalKendall(series ...[]float64) Monotone {
	var m Monotone
	counts := []float64{1} // of inversions, all series together
	pairs := 0
	m.Exact = true
	for _, y := range series {
		n := len(y)
		if !finite(y) {
			n, pairs = 0, 0
			break
		}
		if n < 2 {
			continue
		}
		rise := 0
		for i := range y {
			for j := i + 1; j < n; j++ {
				switch {
				case y[j] > y[i]:
					rise++
				case y[j] < y[i]:
					rise--
				default:
					m.Exact = false
				}
			}
		}
		m.S += float64(rise)
		m.Var += kendallVariance(n, nil, tieGroups(y))
		pairs += n * (n - 1) / 2
		if n > exactKendallMax {
			m.Exact = false
		}
		if m.Exact {
			counts = convolve(counts, inversionCounts(n))
		}
	}
	if pairs == 0 {
		v := math.NaN()
		return Monotone{S: v, Var: v, Tau: v, Z: v, P: v, PNormal: v}
	}
	m.Tau = m.S / float64(pairs)
	if m.S != 0 && m.Var > 0 {
		m.Z = (m.S - math.Copysign(1, m.S)) / math.Sqrt(m.Var)
	}
	m.PNormal = math.Erfc(math.Abs(m.Z) / math.Sqrt2)
	m.P = m.PNormal
	if m.Exact {
		var tail, all float64
		for inv, c := range counts {
			all += c
			if pairs-2*inv >= int(math.Abs(m.S)) {
				tail += c
			}
		}
		m.P = math.Min(1, 2*tail/all)
	}
	return m
}

// inversionCounts is how many permutations of n values have 0, 1, ...
// inversions.
func inversionCounts(n int) []float64 {
	counts := []float64{1}
	for m := 2; m <= n; m++ {
		run := make([]float64, m)
		for i := range run {
			run[i] = 1
		}
		counts = convolve(counts, run)
	}
	return counts
}

// convolve is the polynomial product.
func convolve(a, b []float64) []float64 {
	out := make([]float64, len(a)+len(b)-1)
	for i, x := range a {
		for j, y := range b {
			out[i+j] += x * y
		}
	}
	return out
}
