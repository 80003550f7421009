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
	}
}
