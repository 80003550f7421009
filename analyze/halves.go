package analyze

import "math"

// rejoin puts the two halves of one loss of signal together: the reading leaves the line,
// drifts along on its own as an input does that nothing holds, and comes back by a leap
// to where the line would have taken it meanwhile. What lies between looks like motion,
// but a shaft cannot be elsewhere for a while and then be back where its speed would have
// brought it.
func (w *work) rejoin(m *Move, segs []segment) []segment {
	const (
		agree = 0.3 // of the way due: speeds differ from place to place by that
		apart = 4.0 // times further off than the two ends are from one line
	)
	dir := float64(m.Direction)
	r := w.rate[side(m.Direction)] * math.Max(math.Abs(m.DriveMean)/w.d.amp, 0.1)
	for i := 1; i+3 < len(segs); i++ {
		if segs[i].state == track || segs[i+1].state != track || segs[i+2].state == track || segs[i+3].state != track {
			continue
		}
		between := segs[i+1]
		if 2*(between.last-between.first) > m.last-m.first {
			continue
		}
		from, q := w.edgeReading(segs[i-1], true)
		to, q2 := w.edgeReading(segs[i+3], false)
		rate := math.Min(math.Max((q+q2)/2, 0.4*r), 1.6*r)
		a, b := segs[i].first, segs[i+2].last
		due := rate * (w.t[min(b, len(w.t)-1)] - w.t[a])
		miss := math.Abs(dir*(to-from) - due)
		mid := medianOf(w.v[between.first:between.last])
		off := math.Abs(dir*(mid-from) - rate*(w.t[(between.first+between.last)/2]-w.t[a]))
		if miss > agree*due+2*w.tol || off < leastLoss*w.ref || off < apart*miss {
			continue
		}
		segs[i].last = b
		segs = append(segs[:i+1], segs[i+3:]...)
		i-- // a third half may follow
	}
	return segs
}
