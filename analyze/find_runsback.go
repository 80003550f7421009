package analyze

import (
	"math"
	"slices"
)

// runsBack is the form of a bent track on which the reading turns round.
const runsBack = "runs back"

// findRunsBack reports a place where the reading goes against a standing drive at a
// motor's pace, going up and going down between the same levels: the shaft goes on, and
// the track tells less where it should tell more. Teeth that let go fall back with the
// load, one way, and at once.
func (w *work) findRunsBack() {
	const least, slowest, fastest = 0.15, 0.3, 4.0 // s; of the usual speed
	var seen [2][]Occurrence
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		r := w.rate[side(m.Direction)]
		for i, s := range m.segs {
			// It begins and ends under the drive, with readings that go on.
			if s.state != back || i == 0 || i == len(m.segs)-1 || s.last-s.first < 3 {
				continue
			}
			d := lapse(w.t[s.last-1], w.t[s.first])
			from, to := w.v[s.first], w.v[s.last-1]
			v := float64(m.Direction) * (from - to)
			if d < least || v < math.Max(4*w.tol, 0.02*w.ref) || v < slowest*r*d || v > fastest*r*d {
				continue
			}
			// No single step makes it.
			most := 0.0
			for j := s.first + 1; j < s.last; j++ {
				most = math.Max(most, float64(m.Direction)*(w.v[j-1]-w.v[j]))
			}
			if most > 0.5*v {
				continue
			}
			o := Occurrence{Interval{w.t[s.first], w.t[s.last-1]}, Interval{math.Min(from, to), math.Max(from, to)}, m.Direction}
			seen[side(m.Direction)] = append(seen[side(m.Direction)], o)
		}
	}
	var places []Occurrence
	volts := noInterval()
	when := volts
	for d, list := range seen {
		for _, o := range list {
			for _, x := range seen[1-d] {
				both := o.Volts.inCommon(x.Volts)
				if both > 0.5*math.Max(o.Volts.Width(), x.Volts.Width()) {
					places = append(places, o)
					volts = volts.widen(o.Volts.From).widen(o.Volts.To)
					when = when.widen(o.Time.From).widen(o.Time.To)
					break
				}
			}
		}
	}
	if len(places) < 2 {
		return
	}
	passes := 0
	for k := range w.moves {
		if lo, hi := w.tracked(&w.moves[k]); w.moves[k].Direction != None && lo < volts.From && hi > volts.To {
			passes++
		}
	}
	f := Finding{Kind: BentTrack, Form: runsBack, Tie: TiedToPosition, Volts: volts, Time: when, Event: w.eventAt("track", volts, finePlace),
		Seen: len(places), Passes: max(passes, len(places)), Places: places, Strength: 1 - math.Exp(-float64(len(places))),
		Measures: []Measure{{"runs back by", volts.Width(), w.unit()}}}
	f.TieP = math.Pow(math.Min(1, volts.Width()/w.span.Width()), float64(len(places)-1))
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool { return f.Kind == SlowZone || f.Kind == BentLine || f.Kind == BentTrack })
	w.overrule(f.Event, GearSlip, Pauses, Jam, NoisyTrack, DeadSpot, UnevenWays, StickSlip)
	w.found = append(w.found, f)
}
