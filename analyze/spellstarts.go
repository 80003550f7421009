package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// asDriveStarts is the form of losses of signal that set in as a drive does, wherever the
// shaft stands then.
const asDriveStarts = "as the drive sets out"

// atDriveStart is the measure of how many of them did.
const atDriveStart = "as the drive set out"

// setIn gives how many of the spells set in with the drive, before the motor has turned at
// all, and the chance that so many do of those that come at any time while it is driven.
// What a motor sends into the wires as it is switched is over within [longestSpike], and
// where some come at rest none is the start's.
func (w *work) setIn(all []spell) (n int, chance float64) {
	within := turnsOver + 2*w.tr.Step // edges of two columns may be a row apart
	driven, starts := 0.0, 0
	for k := range w.moves {
		m := &w.moves[k]
		driven += m.Duration()
		if k == 0 || lapse(m.Time.From, w.moves[k-1].Time.To) > restAfter {
			starts++
		}
	}
	for i := range all {
		s := &all[i]
		if s.rests {
			return 0, 1
		}
		if lapse(w.t[s.last], w.t[s.first]) > longestSpike && s.last > s.first+1 && w.setsOut(s, within) {
			n++
		}
	}
	if n < 3 || !(driven > 0) {
		return 0, 1
	}
	return n, stats.BinomialTail(n, len(all), math.Min(1, float64(starts)*within/driven))
}

// setsOut tells whether a spell begins within so many seconds of a drive that takes a shaft
// out of its rest.
func (w *work) setsOut(s *spell, within float64) bool {
	at := w.t[s.first]
	for k := range w.moves {
		from := w.moves[k].Time.From
		rests := k == 0 || lapse(from, w.moves[k-1].Time.To) > restAfter
		if rests && lapse(at, from) <= within && lapse(from, at) <= 1.5*w.tr.Step {
			return true
		}
	}
	return false
}
