package analyze

import "math"

// endsOfTrack tells whether a stop that reads shifted by less than it should, outward, is
// cut off by the end of the track: there the wiper rides on the terminal, and the reading
// stands. The shaft goes on all the same, so as it leaves, the reading waits for just the
// way that is missing.
func (w *work) endsOfTrack(p pressing, change, want, err float64) bool {
	out := float64(w.moves[p.move].Direction)
	missing := out * (want - change)
	if out*change < -err || missing <= math.Max(err, 0.1*math.Abs(want)) || p.move+1 >= len(w.moves) {
		return false
	}
	back := &w.moves[p.move+1]
	if float64(back.Direction) != -out || len(back.segs) < 2 || back.segs[0].state != still {
		return false
	}
	waited := w.t[back.segs[0].last] - back.Time.From - w.usualStart(back)
	rate := back.Rate
	if !(rate > 0) {
		return false
	}
	// Both ends of the wait are told to what the motor's start is, and what is missing must be
	// more than that: else no wait at all would bear it out.
	known := math.Max(err+rate*startLag, 0.1*math.Abs(want))
	return missing > known && math.Abs(rate*waited-missing) <= known
}

// usualStart is how long the other moves of a direction stand before they set out, in s.
func (w *work) usualStart(m *Move) float64 {
	var all []float64
	for k := range w.moves {
		o := &w.moves[k]
		if o == m || o.Direction != m.Direction || o.Moving <= 0 || len(o.segs) == 0 {
			continue
		}
		stood := 0.0
		if s := o.segs[0]; s.state == still && len(o.segs) > 1 {
			stood = w.t[s.last] - o.Time.From
		}
		all = append(all, stood)
	}
	if len(all) == 0 {
		return 0
	}
	return medianOf(all)
}
