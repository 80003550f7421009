package analyze

import (
	"math"
	"slices"
)

// fewestPushes is how many drives one after the other, the same way, must leave the
// reading where it was before they are taken for a shaft pushed against its stop: one
// may be lost in play, two in stiction besides. Chosen, not derived.
const fewestPushes = 3

// stallsAndPushes lists the stalls and the pushes, in the order of their moves.
func (w *work) stallsAndPushes() []stall {
	out := append(w.shortPushes(), w.stallsOf()...)
	slices.SortFunc(out, func(a, b stall) int { return a.move - b.move })
	return out
}

// shortPushes lists the stops that a control working in short drives has pushed against:
// each drive is too short to be a stall by itself, all of them together drove long
// enough to have gone a way that shows, as the drives before them did.
func (w *work) shortPushes() (out []stall) {
	for k := 0; k < len(w.moves); {
		next := w.sameDirection(k)
		if s, ok := w.pushed(k, next); ok {
			out = append(out, s)
		}
		k = next
	}
	return out
}

// sameDirection is the first move from k on that does not go k's way, or k+1 where k
// has no direction.
func (w *work) sameDirection(k int) int {
	d := w.moves[k].Direction
	for k++; d != None && k < len(w.moves) && w.moves[k].Direction == d; k++ {
	}
	return k
}

// pushed measures the last of the moves [k, next), all one way, as a push against a
// stop.
func (w *work) pushed(k, next int) (stall, bool) {
	first, seconds, longest := next, 0.0, 0.0
	same := math.Max(w.tol/2, w.quantum)
	for first > k && next > k && math.Abs(w.moves[first-1].Start-w.moves[next-1].End) < same && !w.madeUp(&w.moves[first-1]) {
		first--
		seconds += w.moves[first].Duration()
		longest = math.Max(longest, w.moves[first].Duration())
	}
	if next-first < fewestPushes || seconds < w.lim.StallSeconds {
		return stall{}, false
	}
	// Drives as short as these must have moved it just before: else they may be too
	// short to move anything.
	var way, took float64
	for i := k; i < first; i++ {
		if m := &w.moves[i]; m.Duration() < 1.5*longest {
			way += m.Travel()
			took += m.Duration()
		}
	}
	// A third of the way that they should have made is none; the tolerance within which
	// the reading stayed must be no more.
	moved := float64(w.moves[k].Direction) * (w.moves[next-1].End - w.moves[first].Start)
	if due := way / math.Max(took, 1e-9) * seconds; due < math.Max(3*same, 2*w.visible()) || moved > due/3 {
		return stall{}, false
	}
	level := w.plateau(w.moves[first].first, w.moves[next-1].last)
	if w.atClip(level) {
		return stall{}, false
	}
	return stall{move: first, level: level, at: w.moves[first].Time.From, seconds: seconds, arrived: true, pushes: next - first}, true
}
