package analyze

import "math"

// standsByMove is where the drive held the shaft at the end of each move that did, at
// whatever reading.
func (w *work) standsByMove() map[int]float64 {
	stands := map[int]float64{}
	for _, visits := range w.pressings(w.span.Width()) {
		for _, v := range visits {
			stands[v.move] = v.level
		}
	}
	return stands
}

// strokeOf is move k as a stroke from one stand into the other; ok is false where it is
// none whose time tells of its travel. What it reads is how far apart the two stands lie,
// which many rows know, where the ends of its run hang on the first rows that are told to
// run. A short drive the same way that took up the play and moved nothing belongs to the
// stroke behind it.
func (w *work) strokeOf(stands map[int]float64, k int) (Sweep, bool) {
	m := &w.moves[k]
	c, ok := w.sweepOf(w.moves[k:k+1], m.Direction)
	if !ok || !c.Stalled || c.High-c.Low < 0.3*w.span.Width() {
		return c, false
	}
	edge := math.Max(2*w.tol, 0.04*w.span.Width())
	from := k - 1
	for from >= 0 && w.moves[from].Direction == m.Direction && math.Abs(w.moves[from].End-w.moves[from].Start) < edge {
		from--
	}
	if from < 0 || !w.ranIntoStop(from, -m.Direction) {
		return c, false
	}
	ends := [2]*float64{&c.Low, &c.High}
	for _, at := range [2]int{from, k} {
		level, known := stands[at]
		if !known {
			continue
		}
		end := ends[side(w.moves[at].Direction)]
		if math.Abs(*end-level) > edge {
			return c, false // it leapt off the stand: the time is not that of the travel
		}
		*end = level
	}
	return c, true
}
