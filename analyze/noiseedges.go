package analyze

import "math"

// noiseEdges places the edges of a noisy band between its cells: at the first
// and the last row that departs, over all passes. A row departs when its second
// difference exceeds five times what is usual; clean Gaussian noise does so
// once in two million. Of n departures strewn evenly over the band the
// outermost lie one nth of it, on the average, inside the edge. No edge moves
// further than one cell inward or half a cell outward: beyond that the cells
// know better.
func (w *work) noiseEdges(band Interval, width, base float64) Interval {
	first, last, n := math.Inf(1), math.Inf(-1), 0
	h := max(2, w.window/2)
	for k := range w.moves {
		m := &w.moves[k]
		if m.Moving == 0 || m.last-m.first < 5 {
			continue
		}
		var win sortedWindow
		in, out := -1, -1
		for i := m.first + 1; i+1 < m.last; i++ {
			at := win.median(w.v, max(m.first, i-h), min(m.last, i+h+1))
			if at < band.From-width/2 || at > band.To+width/2 || lapse(w.t[i], m.Time.From) < w.lim.StallSeconds {
				continue
			}
			if d2 := w.v[i+1] - 2*w.v[i] + w.v[i-1]; math.Abs(d2) > 5*base {
				if in < 0 {
					in = i
				}
				out = i
				n++
			}
		}
		if in < 0 {
			continue
		}
		// The quiet rows before the first and after the last tell the place:
		// the noisy ones scatter. The second difference reaches one row ahead.
		for _, v := range []float64{w.aheadOf(m, in+1, -h), w.aheadOf(m, out-1, h)} {
			if !math.IsNaN(v) {
				first, last = math.Min(first, v), math.Max(last, v)
			}
		}
	}
	if n < 8 || !(last > first) {
		return band // too few to place an edge by
	}
	gap := (last - first) / float64(n)
	return Interval{
		math.Max(band.From-width/2, math.Min(band.From+width, first-gap)),
		math.Min(band.To+width/2, math.Max(band.To-width, last+gap)),
	}
}

// aheadOf is the place at a row, carried on from the n quiet rows on one side
// of it (before it, when n is negative) at the usual rate; NaN where the move
// has none.
func (w *work) aheadOf(m *Move, row, n int) float64 {
	a, b := row+n-1, row-1 // before: leave the neighbour out, it may be noisy
	if n > 0 {
		a, b = row+2, row+2+n
	}
	a, b = max(a, m.first), min(b, m.last)
	if b-a < 2 {
		return math.NaN()
	}
	mid := w.t[a] + (w.t[b-1]-w.t[a])/2
	r := float64(m.Direction) * w.rate[side(m.Direction)] * w.gain(m, row)
	return medianOf(w.v[a:b]) + r*(w.t[row]-mid)
}

// spellsIn are the spells that lie in a move, or reach into it.
func (w *work) spellsIn(m *Move) (in []spell) {
	all := w.away.of(w.spells)
	for i := range all {
		if s := &all[i]; s.last > m.first && s.first < m.last {
			in = append(in, *s)
		}
	}
	return in
}

// leftAt is the place of the track, in V, at which readings about time t scatter that look
// as if it were mid: where the reading is away, what it reads is no place of the track, and
// the shaft is between where the reading left and where it comes back. The readings that
// make mid lie up to so many seconds (half) before and after t.
func (w *work) leftAt(away []spell, t, half, mid float64) float64 {
	for i := range away {
		s := &away[i]
		from, to := w.t[s.first], w.t[s.last]
		on := s.volts()
		if t < from-half || t > to+half || mid > on.From-w.tol && mid < on.To+w.tol {
			continue
		}
		share := math.Max(0, math.Min(1, (t-from)/math.Max(to-from, 1e-9)))
		return s.from + share*(s.to-s.from)
	}
	return mid
}
