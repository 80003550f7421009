package analyze

import "math"

// offsetThatComesAndGoes is how far, in V, the reading is shifted for a while and comes back,
// 0 where it is not. Either stop is then read at two levels, as far apart at the one as at
// the other, and at one of them the first comes back: a few millivolts that some other load
// puts on the ground while it is on. A scale moves the stops by what they read, and a stop
// that lies elsewhere moves alone.
func (w *work) offsetThatComesAndGoes() float64 {
	const (
		alike = 0.1 // of the shift: less than the stops of a short travel differ by in what they read (chosen)
		tight = 0.2 // of the shift, the scatter of one level (chosen)
		clear = 6   // standard errors of a level
	)
	var shifts [2]float64
	back := false
	for d, visits := range w.pressings(0) {
		if len(visits) < 2 {
			return 0
		}
		lo, hi, off := math.Inf(1), math.Inf(-1), 0.0
		for _, p := range visits {
			lo, hi, off = math.Min(lo, p.level), math.Max(hi, p.level), math.Max(off, p.err)
		}
		shift, last, spells := hi-lo, 0, 0
		if shift < clear*off {
			return 0
		}
		for _, p := range visits {
			at := 0
			switch {
			case p.level < lo+tight*shift:
				at = -1
			case p.level > hi-tight*shift:
				at = 1
			default:
				return 0
			}
			if at != last {
				spells, last = spells+1, at
			}
		}
		back = back || spells > 2
		shifts[d] = shift
	}
	if most := math.Max(shifts[0], shifts[1]); back && math.Abs(shifts[0]-shifts[1]) < alike*most {
		return most
	}
	return 0
}
