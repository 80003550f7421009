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
	if w.sense == 0 {
		return 0
	}
	var with, behind []float64
	for k := i; k+2 < j; k += 2 {
		a, b := w.moves[k].first, w.moves[k+2].first
		if b-a < 8 {
			return 0 // too few rows to tell behind from upon
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
		with, behind = append(with, sign*s), append(behind, -sign*c)
	}
	n := float64(len(with))
	if n < 3 {
		return 0
	}
	x, y := mean(with), mean(behind)
	size := math.Hypot(x, y)
	// Four standard errors of the mean, as for a reading that is not noise.
	scatter := 0.0
	for k := range with {
		scatter += math.Pow(with[k]-x, 2) + math.Pow(behind[k]-y, 2)
	}
	if size < 4*math.Sqrt(scatter/(n-1)/n) || size < w.quantum/2 {
		return 0
	}
	// Half the way from upon it to a quarter of a cycle behind, and as far beyond half
	// a cycle.
	if lag := math.Atan2(y, x); lag < math.Pi/4 && lag > -3*math.Pi/4 {
		return 0
	}
	return 2 * size
}
