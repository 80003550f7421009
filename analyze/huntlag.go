package analyze

import "math"

// swingsAfter is how far the reading swings from turn to turn, in V, in step with a
// drive that turns over and over in moves [i, j) but behind it, as what the drive moves
// does; 0 where it does not, or where the cycles do not agree on it. The swing is the
// fundamental of each cycle (a lock-in on the drive), so that slow changes and steps of
// the converter fall out; the cycles are held against one another by their scatter.
//
// A shaft that follows turns at each switching: its swing lies a quarter of a cycle
// behind the drive. Filters, slack and a motor that has to turn over add to that. What
// the drive couples into the wire lies upon it.
func (w *work) swingsAfter(i, j int) float64 {
	size, lag := w.swing(i, j)
	// Half the way from upon it to a quarter of a cycle behind, and as far beyond half
	// a cycle.
	if lag < math.Pi/4 && lag > -3*math.Pi/4 {
		return 0
	}
	return size
}

// swing gives that swing and how far it lies behind the drive, in parts of a cycle of 2 pi;
// no size where the cycles do not agree on it.
func (w *work) swing(i, j int) (size, lag float64) {
	if w.sense == 0 {
		return 0, 0
	}
	var with, behind []float64
	for k := i; k+2 < j; k += 2 {
		x, y, ok := w.cycleSwing(k)
		if !ok {
			return 0, 0
		}
		with, behind = append(with, x), append(behind, y)
	}
	n := float64(len(with))
	if n < 3 {
		return 0, 0
	}
	x, y := mean(with), mean(behind)
	size = math.Hypot(x, y)
	// Four standard errors of the mean, as for a reading that is not noise.
	scatter := 0.0
	for k := range with {
		scatter += math.Pow(with[k]-x, 2) + math.Pow(behind[k]-y, 2)
	}
	if size < 4*math.Sqrt(scatter/(n-1)/n) || size < w.quantum/2 {
		return 0, 0
	}
	return 2 * size, math.Atan2(y, x)
}

// cycleSwing is the swing of one cycle, that of moves k and k+1, V: the part in step with
// the drive and the part a quarter of a cycle behind it; false where too few rows tell
// behind from upon.
func (w *work) cycleSwing(k int) (with, behind float64, ok bool) {
	a, b := w.moves[k].first, w.moves[k+2].first
	// The drive turned over up to a row before: by half a row on the mean, which must stay
	// below the eighth of a cycle that tells behind from upon.
	if b-a < 5 {
		return 0, 0, false
	}
	from, period := w.t[a], w.t[b]-w.t[a]
	middle := mean(w.v[a:b])
	c, s := 0.0, 0.0
	for n := a; n < b; n++ {
		sin, cos := math.Sincos(2 * math.Pi * (w.t[n] - from) / period)
		s += (w.v[n] - middle) * sin
		c += (w.v[n] - middle) * cos
	}
	sign := 2 / float64(b-a)
	if w.moves[k].Direction == Down {
		sign = -sign
	}
	return sign * s, -sign * c, true
}

// swingsAlong tells whether the reading follows a drive that turns over too fast for its
// single moves to be told apart: it swings at least half as far as the motor's speed
// makes a triangle's fundamental (8/pi^2 of its height), as a motor takes a part of each
// move to turn over, no further than one and a half times that, and is late by a quarter of
// a cycle at most. Slack as wide as the swing, or a track that is lost in one half of
// it, leaves less or comes later.
func (w *work) swingsAlong(i, j int) bool {
	size, lag := w.swing(i, j)
	if j-i < 2 || lag < math.Pi/4 {
		return false
	}
	half := (w.moves[j-1].Time.From - w.moves[i].Time.From) / float64(j-1-i)
	due := 8 / (math.Pi * math.Pi) * half * math.Sqrt(w.rate[0]*w.rate[1])
	for k := i; k < j; k++ {
		m := &w.moves[k]
		if lo, hi := extremes(w.v[m.first:m.last]); hi-lo > 1.5*half*math.Max(w.rate[0], w.rate[1])+2*w.tol {
			return false
		}
	}
	return size > 0.5*due && size < 1.5*due
}
