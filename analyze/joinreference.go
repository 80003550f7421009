package analyze

import "math"

// goneWithIt is how many losses of the reading came in moments in which its reference was
// away.
const goneWithIt = "losses of the reading with it"

// joinReference joins to a reference that comes and goes the losses of the feedback in the
// same moments: a wiper whose track has no supply reads nothing, and a clip or a ground
// that lets go takes both channels along. They are the one event that the reference shows
// best, however they lie along the travel.
func (w *work) joinReference() {
	r := w.tr.Reference
	if r == nil || len(r.Mean) != len(w.t) {
		return
	}
	// A fifth away: far more than the fiftieth that a load on the reference takes, and
	// a loss is more.
	m := medianOf32(r.Mean)
	away := func(at Interval) bool {
		for i, t := range w.t {
			if t > at.To+2*w.tr.Step {
				break
			}
			if t >= at.From-2*w.tr.Step && math.Abs(float64(r.Mean[i])-m) > m/5 {
				return true
			}
		}
		return false
	}
	for i := range w.found {
		ref := &w.found[i]
		if ref.Kind != RefLoss || ref.Form != "" {
			continue
		}
		most := 0 // of the kinds of loss: they may be the same moments
		for k := range w.found {
			f := &w.found[k]
			if f.Kind != Dropouts && f.Kind != DeadSpot && f.Kind != AtRail || len(f.Places) == 0 {
				continue
			}
			with := 0
			for _, p := range f.Places {
				if away(p.Time) {
					with++
				}
			}
			if 5*with >= 4*len(f.Places) {
				f.Event = ref.Event
				f.Strength *= 0.05
				most = max(most, with)
			}
		}
		if most > 0 {
			ref.Measures = append(ref.Measures, Measure{goneWithIt, float64(most), ""})
		}
		w.joinFalseSpan(ref, m)
	}
}

// joinFalseSpan joins to a reference that comes and goes the stalls short of readings that
// came in such moments only: what lies beyond them is no travel, and where they stand is the
// stop. With them goes what is slow on the way into it.
func (w *work) joinFalseSpan(ref *Finding, usual float64) {
	const settles = 0.1 // s that wiper, wires and filter may take to come back
	away := make([]bool, len(w.t))
	last := math.Inf(-1)
	for i := range w.t {
		if math.Abs(float64(w.tr.Reference.Mean[i])-usual) > usual/5 {
			last = w.t[i]
			for j := i; j >= 0 && !away[j] && w.t[j] > last-settles; j-- {
				away[j] = true
			}
		}
		away[i] = away[i] || w.t[i] < last+settles
	}
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Jam || len(f.Places) == 0 || w.passedSound(f, away) {
			continue
		}
		at := f.Volts.Mid()
		f.Event, f.Strength = ref.Event, 0.05*f.Strength
		for k := range w.found {
			if g := &w.found[k]; g.Kind == SlowZone && at > g.Volts.From-w.tol && at < g.Volts.To+w.tol {
				g.Event, g.Strength = ref.Event, 0.05*g.Strength
			}
		}
	}
}

// passedSound tells whether readings beyond a stall were seen for a tenth of a second in all
// while the reference was there, or nothing beyond it was seen at all.
func (w *work) passedSound(f *Finding, away []bool) bool {
	dir := f.Places[0].Direction
	at := f.Volts.To
	if dir == Down {
		at = f.Volts.From
	}
	sound, beyond := 0.0, 0
	for i, v := range w.v {
		if dir == None || float64(dir)*(v-at) < 2*w.tol {
			continue
		}
		beyond++
		if !away[i] {
			sound += w.tr.Step
		}
	}
	return beyond == 0 || sound >= 0.1
}
