package analyze

import "math"

// mainsLines are the frequencies, in Hz, at which mains get into a reading: 50 or 60 Hz,
// and twice that behind a rectifier.
func mainsLines() []float64 { return []float64{50, 60, 100, 120} }

// detrended is the reading at a rest less its line, with the frequency of its rows.
type detrended struct {
	x   []float64 // V
	rss float64   // V², sum of their squares
	fs  float64   // Hz
}

// detrendedRest is the longest rest, no longer than is needed to tell lines apart; nil where
// it is too short, or rows are not evenly spaced or are means.
func (w *work) detrendedRest() *detrended {
	if !w.tr.Uniform || w.tr.RowsPerBin > 1 || !(w.noise > 0) {
		return nil
	}
	a, b := w.longestRest()
	n := b - a
	if n < 32 {
		return nil
	}
	n = min(n, 2048)
	r := &detrended{x: make([]float64, n), fs: 1 / w.tr.Step}
	fit := newFitter(w.t[a:a+n], w.v[a:a+n])
	slope, mid, rss := fit.line(0, n)
	r.rss = rss
	mt := 0.0
	for i := range r.x {
		mt += w.t[a+i] / float64(n)
	}
	for i := range r.x {
		r.x[i] = w.v[a+i] - mid - slope*(w.t[a+i]-mt)
	}
	return r
}

// hum looks for the line of mains where they stand or fold to at this rate of the rows: its
// frequency in Hz, and its swing from peak to peak in V.
func (r *detrended) hum(mains float64) (at, swing float64, ok bool) {
	n := float64(len(r.x))
	folded := foldedTo(mains, r.fs)
	// A line slower than two periods in the rest is drift.
	width := r.fs/n + mainsWithin*mains
	if folded < 2*width {
		return 0, 0, false
	}
	power := 0.0
	for f := math.Max(width, folded-width); f <= math.Min(r.fs/2, folded+width); f += 0.25 * r.fs / n {
		if p := lineShare(r.x, f/r.fs, r.rss); p > power {
			power, at = p, f
		}
	}
	// Of white noise a line holds the share s or more with the chance
	// (1-s)^(n/2-1) (Fisher 1929); some dozen frequencies were tried. What
	// holds less than a quarter of the noise does not matter.
	if chance := 40 * math.Pow(1-math.Min(1, power), n/2-1); chance > 1e-4 || power < 0.25 {
		return 0, 0, false
	}
	return at, 2 * math.Sqrt(2*power*r.rss/n), true
}

// humRows is how many rows a cycle of the strongest hum takes as the rows show it, 0 where
// there is none.
func (w *work) humRows() float64 {
	rows, most := 0.0, 0.0
	r := w.detrendedRest()
	for _, mains := range mainsLines() {
		if r == nil {
			break
		}
		if at, swing, ok := r.hum(mains); ok && swing > most {
			rows, most = r.fs/at, swing
		}
	}
	return rows
}

// wholeCycles is the block of n rows or up to twice as many that comes nearest to whole
// cycles of a hum: its mean leaves the hum out, as that of a part of a cycle does not.
func wholeCycles(n int, cycle float64) int {
	best, least := n, math.Inf(1)
	for k := n; cycle > 1 && k <= 2*n; k++ {
		if off := math.Abs(float64(k)/cycle - math.Round(float64(k)/cycle)); off < least-1e-3 && float64(k) > cycle/2 {
			best, least = k, off
		}
	}
	return best
}

// lineShare is the share of the sum of squares rss of x that a sine of f
// cycles per row holds.
func lineShare(x []float64, f, rss float64) float64 {
	if rss <= 0 || f <= 0 || f >= 0.5 {
		return 0
	}
	var c, s float64
	for i, v := range x {
		sin, cos := math.Sincos(2 * math.Pi * f * float64(i))
		c += v * cos
		s += v * sin
	}
	return 2 * (c*c + s*s) / (float64(len(x)) * rss)
}
