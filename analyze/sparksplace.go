package analyze

import "threewire/analyze/stats"

// keepToPlace tells whether spikes, by the readings they leave from, keep to the stretch of
// the track in which most of them lie: most visits to it show one, two at least, and chance
// does not put so many of them into the rows that were read there, wherever it lay.
func (w *work) keepToPlace(all []spike, base []float64) bool {
	band := Interval{quantileOf(base, 0.15), quantileOf(base, 0.85)}
	in := 0
	for _, v := range base {
		if band.Has(v) {
			in++
		}
	}
	rows, visits, shown := 0, 0, 0
	apart := w.rows(1)       // of two visits
	left, next := apart+1, 0 // rows since it was left; the next spike
	spiked := false
	for i, v := range w.v {
		if band.Has(v) {
			if left > apart {
				visits, spiked = visits+1, false
			}
			rows, left = rows+1, 0
		} else {
			left++
		}
		for next < len(all) && all[next].first <= i {
			if band.Has(all[next].base) && !spiked {
				shown, spiked = shown+1, true
			}
			next++
		}
	}
	share := float64(rows) / float64(len(w.v))
	return shown >= 2 && 3*shown >= 2*visits && stats.BinomialTail(in, len(base), share) < share*w.lim.Significance
}
