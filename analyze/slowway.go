package analyze

const (
	// creepLeast is how much of the range seen a stand may get on by and still be one:
	// foam that yields at a stop, and instruments that drift, do by a few percent. A quarter
	// is a part of the travel and no stand (chosen, not derived).
	creepLeast = 0.25
	// creepParts is into how many parts of equal time a creep is cut, and creepEven how much
	// of an even part's way each gets on by at the least, and at the most what that leaves: a
	// level that no track holds runs out, much at first and little later; a motor goes on.
	creepParts = 4
	creepEven  = 0.5
)

// slowWay tells whether what looks like a stand beside the usual pace is a shaft that gets on,
// far slower: over a quarter of the travel and ever on.
func (w *work) slowWay(m *Move, s segment) bool {
	if s.state != still || s.last-s.first < 3*w.window {
		return false
	}
	n := w.window
	var at [creepParts + 1]float64
	for i := range at {
		from := s.first + i*(s.last-s.first-n)/creepParts
		at[i] = medianOf(w.v[from : from+n])
	}
	d := float64(m.Direction)
	way := d * (at[creepParts] - at[0])
	if way < creepParts*2*w.tol {
		return false
	}
	for i := range creepParts {
		if q := d * (at[i+1] - at[i]) / way * creepParts; q < creepEven || q > 2-creepEven {
			return false
		}
	}
	// Last, for it looks at the whole capture.
	lo, hi := outer(w.tr.Feedback.Mean, 3)
	return way >= creepLeast*(hi-lo)
}
