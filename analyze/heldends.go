package analyze

import "math"

// A stand in noise must last until the way not gone shows in the reading. The current needs
// no such time: a motor that is held draws what it draws in the first moment of a start,
// wherever it is held.

// heldEnds lists the ends of moves at which the reading is too noisy, or the hold too brief,
// to show a stand, and the current shows a motor that is held: from some moment on it is that
// of a start from rest or of a stand under way, before that less than half of the way to it.
// In the stands given it marks those that the current shows, too.
func (w *work) heldEnds(stalls []stall) (out []stall) {
	held := w.startCurrent()
	for _, s := range stalls {
		held = larger(held, w.currentWithin(s.at+w.lim.StallSeconds, s.at+s.seconds))
	}
	run := w.runningCurrent()
	if math.IsNaN(held) || !(held > heldOverRunning*run) {
		return nil
	}
	shown := map[int]bool{}
	for i, s := range stalls {
		shown[s.move] = true
		if c := w.currentWithin(s.at, s.at+s.seconds); c > asHeld*held && c > (run+held)/2 {
			stalls[i].current = true
		}
	}
	for k := range w.moves {
		m := &w.moves[k]
		if shown[k] || m.Direction == None || m.Moving == 0 || w.madeUp(m) {
			continue
		}
		if s, ok := w.heldAtEnd(k, held, run); ok {
			out = append(out, s)
		}
	}
	return out
}

// asHeld is the share of the current of a motor that is held from which one is held;
// brushes and heat make a tenth or two.
const asHeld = 0.8

// heldOverRunning is how many times its running current a motor must draw when held for the
// two to be told apart with a door's load, brushes and heat in both.
const heldOverRunning = 2

// heldAtEnd is the hold that ends a move, by its current.
func (w *work) heldAtEnd(k int, held, run float64) (stall, bool) {
	const (
		asHeld   = 0.8  // brushes and heat make a tenth or two
		before   = 0.5  // s
		mostSkew = 0.05 // s, by which the columns of a logger may be apart
	)
	m, full := &w.moves[k], w.steadyDrive()
	holds := func(i int) bool {
		amps := math.Abs(float64(w.tr.Current.Mean[i])) * math.Max(1, w.d.amp/full[i])
		return full[i] > turnedDown*w.d.amp && amps > asHeld*held
	}
	last := m.last
	for last > m.first && !holds(last-1) && lapse(w.t[m.last-1], w.t[last-1]) < mostSkew {
		last--
	}
	first := last
	for first > m.first && holds(first-1) {
		first--
	}
	if first >= last {
		return stall{}, false
	}
	at, seconds := w.t[first], lapse(endOf(w.t, last, w.tr.Step), w.t[first])
	if seconds < math.Max(w.lim.StallSeconds, 3*w.tr.Step) {
		return stall{}, false
	}
	ran := w.currentWithin(math.Max(at-before, m.Time.From+before), at-w.lim.StallSeconds)
	if !(ran < (run+held)/2) {
		return stall{}, false
	}
	// Not where the reading goes on meanwhile: that current holds nothing.
	n := (last - first) / 3
	gone := medianOf(w.v[last-n:last]) - medianOf(w.v[first:first+n])
	went := w.rate[side(m.Direction)] * seconds * 2 / 3
	level := w.plateau(first, last)
	if n == 0 || gone*float64(m.Direction) > went/2 || w.atClip(level) {
		return stall{}, false
	}
	return stall{move: k, level: level, at: at, seconds: seconds, arrived: true, current: true}, true
}
