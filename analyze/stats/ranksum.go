package stats

import "math"

// RankSum tests whether the values a and b come from one distribution, by the
// sum of the ranks of a among all. It returns the two-sided probability of a
// sum at least as far from its mean, and whether the ranks of a are high
// rather than low.
//
// Up to 40 values the probability is exact, ranks shared by equal values
// included; above it is the normal approximation with correction for
// continuity and ties. An empty sample, or NaN or infinity, gives 1.
//
// Source: Wilcoxon F., Biometrics Bulletin 1 (1945) 80; Lehmann E.L.,
// Nonparametrics, Holden-Day 1975, sec. 1.2.
func RankSum(a, b []float64) (p float64, high bool) {
	m, n := len(a), len(a)+len(b)
	all := append(append(make([]float64, 0, n), a...), b...)
	if m == 0 || len(b) == 0 || !finite(all) {
		return 1, false
	}
	ranks := Ranks(nil, all)
	sum := 0.0
	for _, r := range ranks[:m] {
		sum += r
	}
	mean := float64(m) * float64(n+1) / 2
	off := math.Abs(sum - mean)
	high = sum > mean
	if n <= 40 {
		return exactRankSum(ranks, m, mean, off), high
	}
	ties := 0.0
	for _, t := range tieGroups(all) {
		f := float64(t)
		ties += f*f*f - f
	}
	f := float64(n)
	v := float64(m*len(b)) / 12 * (f + 1 - ties/(f*(f-1)))
	if v <= 0 {
		return 1, false
	}
	z := math.Max(0, off-0.5) / math.Sqrt(v)
	return math.Erfc(z / math.Sqrt2), high
}

// exactRankSum counts the choices of m ranks by twice their sum, which is whole.
func exactRankSum(ranks []float64, m int, mean, off float64) float64 {
	top := 0
	for _, r := range ranks {
		top += int(2 * r)
	}
	ways := make([][]float64, m+1) // by how many are chosen
	for i := range ways {
		ways[i] = make([]float64, top+1)
	}
	ways[0][0] = 1
	for i, r := range ranks {
		d := int(2 * r)
		for k := min(i+1, m); k > 0; k-- {
			for s := top; s >= d; s-- {
				ways[k][s] += ways[k-1][s-d]
			}
		}
	}
	var far, all float64
	for s, w := range ways[m] {
		all += w
		if math.Abs(float64(s)/2-mean) >= off-1e-9 {
			far += w
		}
	}
	return math.Min(1, far/all)
}
