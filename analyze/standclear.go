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
// rests for so long, nothing is known of a wander.
func (w *work) clearOfWander(s stall) bool {
	a, b := indexAt(w.t, s.at), indexAt(w.t, s.at+s.seconds)
	drive := 0.0 // pulsed, it takes the shaft on by as much less
	for _, v := range w.d.mean[a:b] {
		drive += math.Abs(v) / float64(b-a)
	}
	rate := w.rate[side(w.moves[s.move].Direction)] * math.Min(1, drive/w.d.amp)
	wander := w.restSlope(max(3, w.rows(s.seconds)))
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
