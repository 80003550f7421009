package analyze

import "math"

// lossesInAll is the measure of how often the reading leaves the travel in the whole
// capture, where that is more often than the losses that were told apart: those close
// together count as one there, and those that come and go with the drive as none.
const lossesInAll = "losses in all"

// countLosses gives the drop-outs the number that an eye counts in the picture.
func (w *work) countLosses() {
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Dropouts || !(w.span.Width() > 0) {
			continue
		}
		if n := w.timesAway(); n > f.Seen {
			f.Measures = append(f.Measures, Measure{lossesInAll, float64(n), ""})
		}
	}
}

// timesAway counts how often the reading leaves the travel, by what counts as a loss. A
// single row, which is taken out as interference, counts where it goes to the level that
// the others go to.
func (w *work) timesAway() (n int) {
	least := max(leastLoss*w.ref, w.tol)
	lo, hi := w.span.From-least, w.span.To+least
	var below, above []float64
	for _, v := range w.v {
		switch {
		case v < lo:
			below = append(below, v)
		case v > hi:
			above = append(above, v)
		}
	}
	low, high := medianOf(below), medianOf(above) // NaN where there are none
	away := func(v float64) bool {
		return v < lo && math.Abs(v-low) < 2*least || v > hi && math.Abs(v-high) < 2*least
	}
	was := false
	for i, v := range w.v {
		now := v < lo || v > hi || i < len(w.raw) && away(w.raw[i])
		if now && !was {
			n++
		}
		was = now
	}
	return n
}
