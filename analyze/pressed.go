package analyze

import (
	"cmp"
	"math"
	"slices"
)

// pressedBefore tells whether the shaft was driven against the end of the travel that was
// seen when a spell set in, and read there for longer, in time driven, than it takes to
// come over what the reading cannot tell apart. The end that was seen may be the edge of a
// track that is open beyond: there a slow shaft on its way out, and one that has just been
// started again, reads the same for a while.
func (w *work) pressedBefore(s *spell) bool {
	const (
		least = 0.12 // s, of an arrival
		over  = 3    // times what the reading cannot tell apart, as in standsThrough
	)
	b := max(0, s.first-1)
	out := int(w.d.pol[b]) * w.sense
	if out == 0 {
		return false
	}
	end := w.span.From
	if out == int(Up) {
		end = w.span.To
	}
	before := least
	if pace := w.trackPace(); pace > 0 {
		before = math.Max(least, over*w.resolution()/pace)
	}
	a, driven := b, 0.0
	for ; driven < before; a-- {
		if a == 0 || int(w.d.pol[a])*w.sense == -out {
			return false // the record, or the way out, has only just begun
		}
		if w.d.pol[a] != 0 {
			driven += w.t[a] - w.t[a-1]
		}
	}
	if b-a < 3 {
		return false
	}
	at := func(from, to int) bool { return math.Abs(medianOf(w.v[from:to])-end) < w.resolution() }
	return at(a, a+(b-a+1)/2) && at(a+(b-a)/2, b)
}

// trackPace is the pace of the reading, in V/s, in the middle one of all the seconds in
// which it tracked: leaps over an open edge, as often as they come, take up no time. It is
// 0 where nothing tracked.
func (w *work) trackPace() float64 {
	return w.paceTracked.of(func() float64 {
		type way struct{ pace, seconds float64 }
		var ways []way
		all := 0.0
		for k := range w.moves {
			for _, g := range w.moves[k].segs {
				a, b := g.first, g.last-1
				if d := w.t[b] - w.t[a]; g.state == track && d > 0 {
					ways = append(ways, way{math.Abs(w.v[b]-w.v[a]) / d, d})
					all += d
				}
			}
		}
		slices.SortFunc(ways, func(a, b way) int { return cmp.Compare(a.pace, b.pace) })
		sum := 0.0
		for _, x := range ways {
			if sum += x.seconds; 2*sum >= all {
				return x.pace
			}
		}
		return 0
	})
}
