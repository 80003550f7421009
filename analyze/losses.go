package analyze

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

// timesAway counts how often the reading leaves the travel by what counts as a loss.
func (w *work) timesAway() (n int) {
	least := max(leastLoss*w.ref, w.tol)
	away := false
	for _, v := range w.v {
		now := v < w.span.From-least || v > w.span.To+least
		if now && !away {
			n++
		}
		away = now
	}
	return n
}
