package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// Whether a rough band belongs to its place, or is where interference fell thick by chance.

// chanceOf is how likely so many passes are rough somewhere on the track in one stretch as
// wide as a band, if they are rough there no more often than outside it: as many trials as
// such stretches lie side by side, each with the binomial's tail.
func (n *noiseMap) chanceOf(b noiseBand) float64 {
	rough, made := 0, 0
	for c := range n.cells {
		// What a band's edges share with it is no outside; nor is another such place.
		q := &n.cells[c]
		if seen, m := q.seen[0]+q.seen[1], q.made[0]+q.made[1]; (c < b.first-1 || c > b.last+1) && !(m >= 3 && 3*seen >= 2*m) {
			rough += seen
			made += m
		}
	}
	wide := b.last + 1 - b.first
	each := 1 - math.Pow(1-float64(rough)/float64(max(1, made)), float64(wide))
	tail := stats.BinomialTail(b.seen[0]+b.seen[1], b.made[0]+b.made[1], each)
	return math.Min(1, float64(len(n.cells))/float64(wide)*tail)
}

// bridgedAlike tells whether the readings as logged scatter outside the band much
// as within: where interference was bridged all along the way, the places where
// that did not succeed are no places of the track.
func (w *work) bridgedAlike(band Interval) bool {
	var sum, n [2]float64 // outside and within
	bridged := 0.0
	w.eachTracked(band, func(i, in int) {
		if in == 0 && w.raw[i] != w.v[i] {
			bridged++
		}
		off := w.raw[i] - w.smooth[i]
		sum[in] += off * off
		n[in]++
	})
	// One reading in ten is far more than spikes are.
	return bridged > 0.1*n[0] && n[1] > 0 && sum[1]/n[1] < 2*sum[0]/n[0]
}

// straysAlike tells whether readings as logged stray in a band no oftener than chance makes
// them somewhere on the track, by how often they do outside it: of the interference that is
// bridged all along the way some stays, and a place where it did is no place of the track.
func (w *work) straysAlike(band Interval) bool {
	limit := 5 * w.moving()
	var strays, rows [2]int // outside and within
	w.eachTracked(band, func(i, in int) {
		rows[in]++
		if math.Abs(w.raw[i]-w.smooth[i]) > limit {
			strays[in]++
		}
	})
	if rows[0] == 0 || strays[1] == 0 {
		return false
	}
	places := float64(rows[0]+rows[1]) / float64(rows[1])
	return places*stats.BinomialTail(strays[1], rows[1], float64(strays[0])/float64(rows[0])) > w.lim.Significance
}

// eachTracked hands over each bin in which the shaft follows the drive, and 1 where it reads
// within a band, 0 where outside.
func (w *work) eachTracked(band Interval, each func(i, in int)) {
	for i, tracks := range w.tracks() {
		switch {
		case tracks && band.Has(w.smooth[i]):
			each(i, 1)
		case tracks:
			each(i, 0)
		}
	}
}
