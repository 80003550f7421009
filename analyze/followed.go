package analyze

import (
	"iter"
	"math"
)

// ways gives the ways over which the reading tracked without a break, with the move
// of each.
func (w *work) ways() iter.Seq2[int, Interval] {
	return func(yield func(int, Interval) bool) {
		for k := range w.moves {
			for _, g := range w.moves[k].segs {
				if g.state != track {
					continue
				}
				a, b := w.v[g.first], w.v[g.last-1]
				if !yield(k, Interval{math.Min(a, b), math.Max(a, b)}) {
					return
				}
			}
		}
	}
}

// tracksNear tells whether the shaft was followed to a level, or past it, on a way
// of a tenth of the span or more.
func (w *work) tracksNear(level float64) bool {
	near := w.resolution()
	for _, r := range w.ways() {
		if r.Width() > 0.1*w.span.Width() && r.From < level+near && r.To > level-near {
			return true
		}
	}
	return false
}

// passedOver counts the moves that track across a level without a break, from
// near on one side to near on the other.
func (w *work) passedOver(level, near float64) (n int) {
	last := -1
	for k, r := range w.ways() {
		if k != last && r.From < level-near && r.To > level+near {
			n, last = n+1, k
		}
	}
	return n
}

// followedBeyond counts the moves in which the reading follows the shaft on the far side of
// a level as seen in a direction, over a twentieth of the span or more, which is as much as a
// leap must be: no open wire goes at the motor's pace, but for one that a filter brings to a rail.
func (w *work) followedBeyond(level float64, dir Direction) (n int) {
	last, rail := -1, w.wideRail()
	for k, r := range w.ways() {
		if r.From < rail || r.To > w.ref-rail {
			continue
		}
		beyond := dir == Up && r.From > level || dir == Down && r.To < level
		if beyond && k != last && r.Width() > math.Max(0.05*w.span.Width(), 2*w.resolution()) {
			n, last = n+1, k
		}
	}
	return n
}

// tracksTo tells whether the shaft was followed to a level, over a tenth of
// the span, and never beyond it: no open wire's level is that by chance.
func (w *work) tracksTo(level float64) bool {
	to, beyond := false, false
	near := w.resolution()
	for _, r := range w.ways() {
		to = to || r.Width() > 0.1*w.span.Width() && (math.Abs(r.From-level) < near || math.Abs(r.To-level) < near)
		beyond = beyond || r.From < level-near && r.To > level+near
	}
	return to && !beyond
}
