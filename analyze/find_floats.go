package analyze

import "math"

// brokenFloats is the form of a [Broken] drive of which a lead hangs in the air.
const brokenFloats = "a lead stands above the supply"

// beyondClamp is by how much, in V, no lead that hangs on its driver stands above another
// that is up: the diodes of the driver hold it within one drop, 0.7 V, of the supply, and two
// probes differ by a few percent.
const beyondClamp = 1.5

// findFloats reports moments in which the driven lead is up and the other stands above it, by
// more than its driver lets it. It has come up through the motor, for nothing holds it down
// any more, and what the motor generates, turned back by what it had wound up, comes on top.
// Once may be anything.
func (w *work) findFloats() {
	if b := w.tr.Both; b == nil || len(b.Mean) != len(w.t) || w.tr.DriveIsPolarity || w.clipped {
		return
	}
	const few = 2
	open := w.aboveSupply()
	if len(open) < few {
		return
	}
	f := w.brokenFinding(brokenFloats, open)
	f.Strength = 1 - math.Exp(-float64(len(open)))
	w.found = append(w.found, f)
}

// aboveSupply lists the moments of 10 ms and three rows at least in which one lead is where
// the driven one stood in the drive before, and the other beyond its driver's diodes. Rows in
// which a pulse takes both down are passed over.
func (w *work) aboveSupply() (out []opening) {
	const (
		least = 0.01  // s, longer than the kick of a winding whose current is cut
		pulse = 0.005 // s
		same  = 0.9   // of the driven lead's volts: an edge that is logged softly passes through less
	)
	bridge := math.Max(pulse, 1.5*w.tr.Step)
	for k := range w.moves {
		end := len(w.t)
		if k+1 < len(w.moves) {
			end = w.moves[k+1].last
		}
		top, even := w.supplyByLeads(k)
		if !even {
			continue
		}
		var o opening
		n := 0
		for i := w.moves[k].first; i < end; i++ {
			lower := float64(w.tr.Both.Mean[i])
			if lower < same*top || lower+math.Abs(float64(w.tr.Drive.Mean[i])) < top+beyondClamp {
				continue
			}
			if n == 0 || lapse(w.t[i], w.t[o.last-1]) > bridge {
				o, n = opening{first: i, midst: true, dir: None, coasts: coasts}, 0
			}
			o.last = i + 1
			if n++; n >= 3 && lapse(w.t[i], w.t[o.first]) >= least {
				if j := len(out) - 1; j >= 0 && o.first < out[j].last+int(leadsRest/w.tr.Step) {
					out[j].last = o.last
				} else {
					out = append(out, o)
				}
			}
		}
	}
	return out
}

// supplyByLeads is how high the leads stand about move k, in V against ground, driven or both
// up at rest, and whether the driven one holds that: rows that are means over pulses, or a
// supply that gives way, make a lead's volts anything below.
func (w *work) supplyByLeads(k int) (top float64, even bool) {
	const driven = 0.7 // of the drive
	var x []float64
	for j := max(0, k-1); j < min(k+2, len(w.moves)); j++ {
		m := &w.moves[j]
		if j != k && m.Duration() < breakOnItsWay {
			continue // what a lead in the air shows is a short move at times
		}
		for i := m.first; i < m.last; i++ {
			if d := math.Abs(float64(w.tr.Drive.Mean[i])); d > driven*w.d.amp {
				x = append(x, float64(w.tr.Both.Mean[i])+d)
			}
		}
	}
	if len(x) == 0 {
		return 0, false
	}
	top = quantileOf(x, 0.9)
	even = top-quantileOf(x, 0.1) < beyondClamp
	var rest []float64
	for i := w.moves[max(0, k-1)].first; i < len(w.t) && i <= w.moves[min(k+1, len(w.moves)-1)].last; i++ {
		if lower := float64(w.tr.Both.Mean[i]); lower > driven*w.d.amp && math.Abs(float64(w.tr.Drive.Mean[i])) < beyondClamp/2 {
			rest = append(rest, lower)
		}
	}
	if len(rest) > 0 {
		top = math.Max(top, quantileOf(rest, 0.9))
	}
	return top, even
}
