package analyze

import "math"

// textured tells whether what looks uneven along the way belongs to its places:
// pass after pass, either way, the reading lingers here and hurries there. That
// is the grain of a track, or its gears; friction holds and lets go where it
// happens to.
func (w *work) textured() bool {
	r, pairs := w.unevenAlike()
	// Half of what is uneven in two passes is common to them.
	return pairs >= 2 && r > 0.5
}

// unevenAlike is the usual correlation of what is uneven in two passes, and of how many pairs
// of passes.
func (w *work) unevenAlike() (usual float64, pairs int) {
	p := w.dwells()
	if p == nil {
		return 0, 0
	}
	var all [][]float64
	for d := range p.pass {
		for i, q := range p.pass[d] {
			if i < 6 {
				all = append(all, withoutTrend(q.y, p.cells/12))
			}
		}
	}
	var r []float64
	for i := range all {
		for j := range i {
			if x, n := correlation(all[i], all[j]); n >= 30 {
				r = append(r, x)
			}
		}
	}
	if len(r) == 0 {
		return 0, 0
	}
	return medianOf(r), len(r)
}

// withoutTrend is a pass less its mean over so many cells to either side; NaN
// stays NaN.
func withoutTrend(y []float64, half int) []float64 {
	out := make([]float64, len(y))
	for c := range y {
		sum, n := 0.0, 0
		for k := max(0, c-half); k < min(len(y), c+half+1); k++ {
			if !math.IsNaN(y[k]) {
				sum += math.Min(y[k], dwellMost)
				n++
			}
		}
		out[c] = math.Min(y[c], dwellMost) - sum/float64(n) // NaN where y is
	}
	return out
}

// correlation is Pearson's, over the n cells that both have.
func correlation(a, b []float64) (r float64, n int) {
	var sa, sb, saa, sbb, sab float64
	for i := range a {
		if math.IsNaN(a[i]) || math.IsNaN(b[i]) {
			continue
		}
		n++
		sa, sb = sa+a[i], sb+b[i]
		saa, sbb, sab = saa+a[i]*a[i], sbb+b[i]*b[i], sab+a[i]*b[i]
	}
	f := float64(n)
	va, vb := saa-sa*sa/f, sbb-sb*sb/f
	if n < 3 || va <= 0 || vb <= 0 {
		return 0, n
	}
	return (sab - sa*sb/f) / math.Sqrt(va*vb), n
}
