package analyze

import "math"

// ranIntoRail tells whether the reading ran to an end of the sensor's supply at the shaft's
// own pace before a stall: it read all the track there is and stands at the ground or at
// the reference beyond, as a wiper on the metal at the end of a sound track does, or a
// channel at its floor. A track that is lost reads less than all of it: the reading holds
// short of the rail, or leaps there.
func (w *work) ranIntoRail(s stall) bool {
	at := 0.0
	if w.moves[s.move].Direction == Up {
		if !w.refSure {
			return false
		}
		at = w.ref
	}
	// The median of a stand that lies at the rail, to half a step of the converter.
	near := w.quantum/2 + math.Max(w.noise, 0.001*w.ref)
	if math.Abs(s.level-at) > near {
		return false
	}
	m := &w.moves[s.move]
	r := w.rate[side(m.Direction)]
	// A fifth of a second before the stand, and two fifths, the reading was as far from the rail as
	// the shaft then: half of that and twice it leave room for the steps of a converter and
	// for a slow arrival.
	const before = 0.2 // s (chosen: below it a filter's decay looks like a way)
	first := indexAt(w.t, m.Time.From)
	stood := indexAt(w.t, s.at)
	for stood > first && math.Abs(w.v[stood-1]-at) <= near {
		stood--
	}
	for _, ago := range []float64{before, 2 * before} {
		i := indexAt(w.t, w.t[stood]-ago)
		if i <= first {
			return ago > before // it came from nearer by
		}
		if off := math.Abs(w.v[i] - at); off < 0.5*r*ago-near || off > 1.5*r*ago+2*near {
			return false
		}
	}
	return true
}

// allRanIntoRail tells whether the reading ran to the rail before each of these stalls.
func (w *work) allRanIntoRail(lv []leave, idx []int) bool {
	for _, i := range idx {
		if !w.ranIntoRail(lv[i].stall) {
			return false
		}
	}
	return true
}
