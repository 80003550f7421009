package signal

import (
	"math"
	"slices"
)

// dropCopies takes out of a file what is the same recording once more: put behind itself,
// its clock starts anew, and row by row the same cells come again. No two recordings share
// their noise, so nothing new was logged, and an actuator that failed in six passes of six
// did not fail in twelve. It holds where all parts are copies of the first, and where every
// row is still there (a longer file is not known again).
func (r *reducer) dropCopies() {
	parts := len(r.anew) + 1
	if parts == 1 || parts > maxGaps || r.k != 1 || len(r.time)%parts != 0 {
		return
	}
	n := len(r.time) / parts
	for k := 1; k < parts; k++ {
		if r.time[k*n] != r.anew[k-1].Time || !r.samePart(k*n, n) {
			return
		}
	}
	for _, c := range r.chans {
		for _, x := range c.mean[n:] {
			if x != x {
				r.miss[c.col]--
			}
		}
		c.mean = c.mean[:n]
		for _, x := range []*int64{&c.stats.Valid, &c.stats.Missing, &c.stats.AtMin, &c.stats.AtMax} {
			*x /= int64(parts)
		}
		if c.min != nil {
			c.min, c.max = c.min[:n], c.max[:n]
		}
	}
	line := r.anew[0].Line
	r.time, r.rows, r.anew = r.time[:n], int64(n), nil
	if r.count != nil {
		r.count = r.count[:n]
	}
	r.lastT, r.prevOut = r.time[n-1], r.time[n-1]
	r.gaps = slices.DeleteFunc(r.gaps, func(g Span) bool { return g.To > r.lastT })
	r.gapCount /= int64(parts)
	r.steps, r.odd, r.stepSum = r.steps/int64(parts), r.odd/int64(parts), r.stepSum/float64(parts)
	r.p.notes = slices.DeleteFunc(r.p.notes, func(n Note) bool { return n.Code == ClockRestarted })
	times := "once more"
	if parts > 2 {
		times = "again and again"
	}
	r.p.note("same-again", "from line %d on the same rows come %s, cell for cell and from the first on: the same recording, used once", r.p.long.sourceLine(line), times)
}

// samePart tells whether the n rows from row i on are the first n again, at times as far
// apart.
func (r *reducer) samePart(i, n int) bool {
	near := 1e-3 * r.typical // what the last digits of a time differ by
	for j := range n {
		if math.Abs((r.time[i+j]-r.time[i])-(r.time[j]-r.time[0])) > near {
			return false
		}
	}
	for _, c := range r.chans {
		for j, x := range c.mean[:n] {
			if y := c.mean[i+j]; x != y && (x == x || y == y) {
				return false
			}
		}
	}
	return true
}
