package analyze

import "math"

// edgeSpread is how far, as a share of the sensor's range, the leaps about one edge of
// the track may lie apart: common practice, no source.
const edgeSpread = 0.15

// overEdge takes for one leap those that follow each other in one drive while the shaft
// goes no further than an edge may be wide ([edgeSpread]): worn away, a track ends in a
// part where the wiper lets go and finds contact again, over and over, and an input
// filter turns that into steps of any height. What counts is where the reading came from
// and where it stayed. Leaps that lead back to where they began are a piece that was
// passed over, and stay as they are.
func (w *work) overEdge(all []leap) []leap {
	out := make([]leap, 0, len(all))
	for k := 0; k < len(all); {
		l, n := all[k], k+1
		rate := w.rate[side(l.direction)]
		for n < len(all) && l.moving && !l.coasting && all[n].move == l.move && all[n].moving && !all[n].coasting &&
			lapse(all[n].at, l.at) < math.Max(lossesApart, edgeSpread*w.ref/math.Max(rate, 1e-9)) {
			n++
		}
		if l.after = all[n-1].after; math.Abs(l.after-l.before) < 0.05*w.ref || rate == 0 {
			out = append(out, all[k:n]...)
		} else {
			out = append(out, l)
		}
		k = n
	}
	return out
}
