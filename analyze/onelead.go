package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// loneLead is what a capture says in which the shaft goes one way under the drive and
// comes back without it.
const loneLead = "the reading travels one way with the drive and back without it, as if only one motor lead was logged; log the other lead too"

// driveBack puts a drive where the shaft comes back without one on record, and tells
// whether there was any such place. The gears hold a shaft that nothing drives: what
// turns it back is the lead that was not logged. A current that was logged tells when;
// else its drive is known while the reading moves, and across what the reading leaps,
// and a stall that way does not show. Its volts are taken for those of the other way.
func (w *work) driveBack() bool {
	var pace []float64
	back := 0.0
	for _, l := range w.legs() {
		if l.undriven > 0.9*math.Abs(l.to-l.from) {
			pace = append(pace, math.Abs(l.to-l.from)/math.Max(l.moving, w.tr.Step))
			back = math.Copysign(1, l.to-l.from)
		}
	}
	if len(pace) == 0 {
		return false
	}
	on := make([]bool, len(w.t))
	found := false
	for a := 0; a < len(w.t); a++ {
		if w.d.pol[a] != 0 {
			continue
		}
		b := a
		for b < len(w.t) && w.d.pol[b] == 0 {
			b++
		}
		for _, m := range w.movesBack(a, b, back, medianOf(pace)) {
			found = true
			for i := m[0]; i < m[1]; i++ {
				on[i] = true
			}
		}
		a = b
	}
	if !found {
		return false
	}
	w.leadSure = w.currentBack(on)
	w.otherLead = -w.moves[0].Polarity
	tr := *w.tr
	s := &tr.Drive
	s.Mean, s.Min, s.Max = slices.Clone(s.Mean), slices.Clone(s.Min), slices.Clone(s.Max)
	x := float32(w.d.levels.Rest - float64(w.moves[0].Polarity)*w.d.amp)
	for i, driven := range on {
		if driven {
			s.Mean[i] = x
			if i < len(s.Min) && i < len(s.Max) {
				s.Min[i], s.Max[i] = x, x
			}
		}
	}
	w.tr = &tr
	w.d = readDrive(w.tr, w.lim)
	return true
}

// madeUp tells whether the drive of a move was made up of the motion it explains: where
// the shaft stands in it nobody knows whether it was driven.
func (w *work) madeUp(m *Move) bool {
	return w.oneLead && !w.leadSure && m.Polarity == w.otherLead
}

// movesBack lists the stretches [from, to) of the undriven bins [a, b) in which the
// reading goes the way back (its sign), at a third of the usual pace, V/s, or more.
// Stretches between which the reading goes on are one: it stood or was gone, and the
// shaft moved.
func (w *work) movesBack(a, b int, back, pace float64) [][2]int {
	// A window in which the shaft gets clear of noise and steps.
	way := math.Max(6*w.noise, 2.5*w.quantum)
	half := max(1, w.rowsOver(math.Max(0.1, 2*way/pace)/2))
	var out [][2]int
	for i := a; i < b; i++ {
		lo, hi := max(a, i-half), min(b-1, i+half)
		gone := back * (w.v[hi] - w.v[lo])
		if hi <= lo || gone < pace*(w.t[hi]-w.t[lo])/3 || gone < way/2 {
			continue
		}
		if n := len(out); n > 0 && out[n-1][1] == i {
			out[n-1][1] = i + 1
		} else {
			out = append(out, [2]int{i, i + 1})
		}
	}
	var joined [][2]int
	for _, m := range out {
		if n := len(joined); n > 0 {
			before := &joined[n-1]
			// The windows reach half their length into the motion on both sides.
			end, start := max(a, before[1]-1-half), min(b-1, m[0]+half)
			on := back * (w.v[start] - w.v[end])
			if m[0]-before[1] <= half || on > 2*way && on > pace*(w.t[start]-w.t[end])/2 {
				before[1] = m[1]
				continue
			}
		}
		joined = append(joined, m)
	}
	return slices.DeleteFunc(joined, func(m [2]int) bool { return back*(w.v[m[1]-1]-w.v[m[0]]) < 2*way })
}

// currentBack marks in on, which says where the shaft was seen to come back, where the
// logged current says that it was driven back, and tells whether it could: the current
// of the seen ones stands clear of what flows at rest.
func (w *work) currentBack(on []bool) bool {
	c := w.tr.Current
	if c == nil {
		return false
	}
	x := movingMean(filled(c.Mean), max(1, w.rowsNear(0.05)))
	var seen, rest, there []float64
	for i, v := range x {
		switch {
		case on[i]:
			seen = append(seen, v)
		case w.d.pol[i] != 0:
			there = append(there, v)
		default:
			rest = append(rest, v)
		}
	}
	// At rest flows less than half of what runs the motor, but for the stalls.
	const few = 10
	if len(seen) < few || len(there) < few {
		return false
	}
	run := medianOf(seen)
	rest = slices.DeleteFunc(rest, func(v float64) bool { return math.Abs(v) > math.Abs(run)/2 })
	if len(rest) < few {
		return false
	}
	idle := medianOf(rest)
	run -= idle
	// What is no good part of the other way's current, or not clear of the scatter at
	// rest, tells nothing.
	if math.Abs(run) < 0.3*math.Abs(medianOf(there)-idle) || 5*stats.MAD(rest) > math.Abs(run) {
		return false
	}
	for i, v := range x {
		on[i] = w.d.pol[i] == 0 && (v-idle)/run > 0.4
	}
	return true
}
