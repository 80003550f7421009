package stats

import (
	"slices"
	"sort"
)

// Ranks stores in dst the ranks 1..n of x; equal values share the mean of the
// ranks they cover. NaN anywhere gives NaN everywhere.
func Ranks(dst, x []float64) []float64 {
	dst = useDst(dst, len(x))
	for _, v := range x {
		if v != v {
			return fill(dst, v)
		}
	}
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return x[order[a]] < x[order[b]] })
	ranks := make([]float64, len(x)) // apart from dst, which may be x itself
	for i := 0; i < len(order); {
		j := i + 1
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		shared := float64(i+1+j) / 2
		for ; i < j; i++ {
			ranks[order[i]] = shared
		}
	}
	copy(dst, ranks)
	return dst
}

// tieGroups returns the sizes of the groups of equal values in x that hold
// more than one value.
func tieGroups(x []float64) []int {
	sorted := slices.Clone(x)
	slices.Sort(sorted)
	var groups []int
	for i := 0; i < len(sorted); {
		j := i + 1
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		if j-i > 1 {
			groups = append(groups, j-i)
		}
		i = j
	}
	return groups
}

// inversions counts the pairs i < j with x[i] > x[j], by merge sort in
// O(n log n). With orEqual it counts x[i] >= x[j]. It sorts x; buf is scratch
// space of the same length.
func inversions(x, buf []float64, orEqual bool) int {
	if len(x) < 2 {
		return 0
	}
	if len(x) <= 12 {
		return insertionInversions(x, orEqual)
	}
	half := len(x) / 2
	count := inversions(x[:half], buf[:half], orEqual) + inversions(x[half:], buf[half:], orEqual)
	a, b := x[:half], x[half:]
	out := buf[:0]
	for len(a) > 0 && len(b) > 0 {
		if a[0] < b[0] || (!orEqual && a[0] == b[0]) {
			out = append(out, a[0])
			a = a[1:]
			continue
		}
		count += len(a)
		out = append(out, b[0])
		b = b[1:]
	}
	out = append(out, a...)
	out = append(out, b...)
	copy(x, out)
	return count
}

func insertionInversions(x []float64, orEqual bool) int {
	count := 0
	for i := 1; i < len(x); i++ {
		v := x[i]
		j := i
		for ; j > 0 && (x[j-1] > v || (orEqual && x[j-1] == v)); j-- {
			x[j] = x[j-1]
			count++
		}
		x[j] = v
	}
	return count
}
