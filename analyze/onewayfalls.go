package analyze

import "math"

// A gear with one bad tooth lets go where that tooth carries the load, which is one place
// of the travel, and going one way: a fall a pass, each from the same reading. Worn ones
// let go anywhere, under the load of one way. What the reading lost stays lost until the
// motor has climbed over the same stretch again, so it is the shaft that went back. A step
// of the track is there for both directions, and a wiper that slips on its shaft takes its
// stops along.

// fewestFrom is how many such falls do that come from one place, in as many drives: a
// second one from the same reading is by chance with a probability of the size of a tooth
// over that of the travel, and a third makes it certain.
const fewestFrom = 2

// fallOneWay tells whether falls of the size of a tooth all go one way, and none as the
// shaft passed where they come from the other way. They must be larger than what the shaft
// loses as it is turned over, since play alone lets a load throw it about by that; three
// and more from one place need not be, where the load throws it there alone.
func (w *work) fallOneWay(falls []fall, tooth float64) bool {
	if len(falls) < fewestFrom {
		return false
	}
	dir := w.moves[falls[0].move].Direction
	var from []float64
	drives := map[int]bool{}
	for _, f := range falls {
		m := &w.moves[f.move]
		at := w.smooth[max(m.first, f.bin-1)]
		if m.Direction != dir || w.passedWholly(-dir, at, tooth) == 0 {
			return false
		}
		drives[f.move] = true
		from = append(from, at)
	}
	if w.leaps(drives, tooth/2) > 0 {
		return false
	}
	// One place is known to half a tooth: the next one may carry the load before it.
	level, onePlace := medianOf(from), len(drives) == len(falls)
	for _, v := range from {
		onePlace = onePlace && math.Abs(v-level) < tooth/2+w.tol
	}
	if onePlace && len(falls) >= leastFalls {
		return true
	}
	return (onePlace || len(falls) >= leastFalls) && tooth > w.lostTurning()+2*w.visible()
}

// passedWholly counts the drives of a direction in which the shaft came from well before a
// level to well beyond it.
func (w *work) passedWholly(dir Direction, level, near float64) (n int) {
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir || m.last <= m.first {
			continue
		}
		if d := float64(dir); d*(level-m.Start) > near && d*(m.End-level) > near {
			n++
		}
	}
	return n
}

// lostTurning is the travel, in V, that the motor turns through without the shaft after a
// reversal, by the delay until the reading sets out: play, and the time of a start with
// it. Without a reversal it is the most that gears have.
func (w *work) lostTurning() float64 {
	var lost []float64
	for k := 1; k < len(w.moves); k++ {
		a, b := &w.moves[k-1], &w.moves[k]
		if a.Direction != None && b.Direction == -a.Direction && b.last > b.first {
			lost = append(lost, w.rate[side(b.Direction)]*b.Delay)
		}
	}
	if len(lost) == 0 {
		return mostPlay * math.Max(w.span.Width(), w.leastTravel())
	}
	return medianOf(lost)
}
