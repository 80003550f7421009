package analyze

import "math"

// ranIntoRail tells whether the reading ran to an end of the sensor's supply at the shaft's
// own pace before a stall: it read all the track there is and stands at the ground or at
// the reference beyond, as a wiper on the metal at the end of a sound track does, or a
// channel at its floor. A track that is lost reads less than all of it: the reading holds
// short of the rail, or leaps there. known is false where the current of the held motor may
// have lifted the reading off the rail, and no rest followed that would tell.
func (w *work) ranIntoRail(s stall) (ran, known bool) {
	at := 0.0
	if w.moves[s.move].Direction == Up {
		if !w.refSure {
			return false, true
		}
		at = w.ref
	}
	// The median of a stand that lies at the rail, to half a step of the converter.
	near := w.quantum/2 + math.Max(w.noise, 0.001*w.ref)
	if off := math.Abs(s.level - at); off > near {
		// What a held motor draws lifts the ground that it shares with the sensor;
		// undriven, the reading lies at the rail.
		if off > groundDrop*w.ref {
			return false, true
		}
		if rest, ok := w.restsBehind(s); !ok || math.Abs(rest-at) > near {
			return false, ok
		}
	}
	m := &w.moves[s.move]
	r := w.rate[side(m.Direction)]
	// A fifth of a second before the stand, and two fifths, the reading was as far from the rail as
	// the shaft then: half of that and twice it leave room for the steps of a converter and
	// for a slow arrival.
	const before = 0.2 // s (chosen: below it a filter's decay looks like a way)
	first := indexAt(w.t, m.Time.From)
	stood := indexAt(w.t, s.at)
	lifted := near
	for i := stood; i < len(w.t) && w.t[i] < s.at+s.seconds; i++ {
		lifted = max(lifted, min(math.Abs(w.smooth[i]-at)+near, groundDrop*w.ref))
	}
	for stood > first && math.Abs(w.smooth[stood-1]-at) <= lifted {
		stood--
	}
	for _, ago := range []float64{before, 2 * before} {
		i := indexAt(w.t, w.t[stood]-ago)
		if i <= first {
			return ago > before, true // it came from nearer by
		}
		if off := math.Abs(w.smooth[i] - at); off < 0.5*r*ago-near || off > 1.5*r*ago+2*lifted {
			return false, true
		}
	}
	return true, true
}

// restsBehind is the reading at rest after a stall, once what was wound up let go.
func (w *work) restsBehind(s stall) (level float64, ok bool) {
	a, b := w.moves[s.move].last+w.rows(restAfter), len(w.v)
	if s.move+1 < len(w.moves) {
		b = w.moves[s.move+1].first
	}
	if b-a < 3 {
		return 0, false
	}
	return medianOf(w.v[a:b]), true
}

// allRanIntoRail tells whether the reading ran to the rail before each of these stalls of
// which that is known.
func (w *work) allRanIntoRail(lv []leave, idx []int) bool {
	some := false
	for _, i := range idx {
		ran, known := w.ranIntoRail(lv[i].stall)
		if known && !ran {
			return false
		}
		some = some || ran
	}
	return some
}
