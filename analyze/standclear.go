package analyze

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"threewire/analyze/stats"
)

// clearOfWander tells whether a stand is longer than the reading's own wander would feign
// by chance in any move of the capture. Hum, a lift of ground and noise that drifts are no
// independent readings, so they are taken as they are: as the slope of the reading while
// nothing drives, over stretches as long as the stand. A shaft that runs seems to stand
// where the reading goes back meanwhile at all but [Limits.Still] of its rate (the normal
// distribution's tail), and each move is one chance to: as many stands as long, the ends
// of the travel left out, come by chance as the binomial of the moves says. Where nothing
// rests or runs for so long, nothing is known of a wander.
func (w *work) clearOfWander(s stall) bool {
	a, b := indexAt(w.t, s.at), indexAt(w.t, s.at+s.seconds)
	drive := 0.0 // pulsed, it takes the shaft on by as much less
	for _, v := range w.d.mean[a:b] {
		drive += math.Abs(v) / float64(b-a)
	}
	n := max(3, w.rows(s.seconds))
	usual, scatter := w.runSlope(n, w.moves[s.move].Direction)
	rate := usual * math.Min(1, drive/w.d.amp)
	wander := math.Max(w.restSlope(n), scatter)
	if wander == 0 {
		return true
	}
	chance := distuv.UnitNormal.Survival((1 - w.lim.Still) * rate / wander)
	alike, near := 1, w.stallsApart()
	for _, o := range w.stallsOf() {
		if o.move != s.move && o.seconds >= s.seconds && o.level > w.span.From+near && o.level < w.span.To-near {
			alike++
		}
	}
	return stats.BinomialTail(alike, len(w.moves), chance) < w.lim.Significance
}

// runSlope is the usual slope of the reading, V/s, while the shaft runs at full drive in a
// direction, and how much it scatters in either, over stretches of n rows. The scatter is the
// robust scale of the difference between one stretch and the next, which a load that
// changes along the way hardly enters, over the root of two. Where there are fewer than five
// such pairs, shorter stretches are taken; a wander that is a sum of random steps, the
// slowest to die out, averages as the root of the length. Where those are shorter than half
// a rate window, or none is too short, the usual rate holds and no scatter is known.
func (w *work) runSlope(n int, dir Direction) (usual, scatter float64) {
	const pairs = 5
	usual = w.rate[side(dir)]
	for share := 1.0; n >= max(3, w.window/2); n, share = n/2, share*math.Sqrt2 {
		var diff, there []float64
		for k := range w.moves {
			slopes := w.runSlopes(&w.moves[k], n)
			for i, x := range slopes {
				if w.moves[k].Direction == dir {
					there = append(there, x)
				}
				if i > 0 {
					diff = append(diff, math.Abs(x-slopes[i-1]))
				}
			}
		}
		if len(diff) < pairs {
			continue
		}
		if len(there) >= pairs {
			// Windows shorter than a wander are thrown both ways, and the quick ones set the
			// usual rate.
			usual = math.Min(usual, medianOf(there))
		}
		return usual, stats.MADScale * medianIn(diff) / math.Sqrt2 / share
	}
	return usual, 0
}

// runSlopes are the slopes, V/s in the direction of a move, over stretches of n rows one behind
// the other, from when the shaft runs to when it runs last, and as long as it is driven
// fully.
func (w *work) runSlopes(m *Move, n int) (slopes []float64) {
	first, last := m.last, m.first
	for _, g := range m.segs {
		if g.state == track {
			first, last = min(first, g.first), max(last, g.last)
		}
	}
	for a := first; a+n <= last && w.gain(m, a+n/2) >= turnedDown; a += n {
		slope, _ := straightLine(w.t[a:a+n], w.v[a:a+n])
		slopes = append(slopes, float64(m.Direction)*slope)
	}
	return slopes
}
