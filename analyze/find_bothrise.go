package analyze

import (
	"math"
	"slices"
)

const (
	bothRise = "both leads rise together" // the second lead follows the first
	bothFall = "both leads fall together" // the same, where both rest up
)

// leadsRest is how long, in s, both leads stand before and after they rise together: the
// edges of a brake and of a drive that is raised softly are shorter.
const leadsRest = 0.2

// A leadStand is a time in which both leads stand alike and nothing is driven, in bins
// [first, last).
type leadStand struct {
	first, last int
	high        bool
}

// findBothRise reports drives of which only the difference of the leads says that
// there were none: a lead is raised from rest, and the other, which nothing holds at
// ground, follows it through the motor. A brake shorts the motor likewise, but beside a
// drive and not between two rests, and a controller that rests with both leads up does
// not raise them. So do those amid a drive (midwayRises). Where both rest up, the same
// shows as a fall, but a controller that goes to sleep lets both leads down too: only
// falls as long as its drives are taken, while it drives one way only (the way that is
// left). That holds as well for two rises, too few by themselves. One or two as long as the
// drives, amid drives both ways, may be a hold of the control's too: they are said
// (seldomRise).
func (w *work) findBothRise() {
	b := w.tr.Both
	if b == nil || len(b.Mean) != len(w.t) || w.tr.DriveIsPolarity {
		return
	}
	const few = 3
	stands := w.leadStands()
	rises := w.betweenRests(stands, true)
	if len(rises) > 0 {
		rises = append(rises, w.midwayRises(stands)...)
	}
	if len(rises) >= few || len(rises) == few-1 && w.wantedDrives(rises) {
		w.foundBoth(bothRise, rises)
	} else if len(rises) > 0 && w.lastAsDrives(rises) {
		w.foundBoth(bothRise, rises)
		f := &w.found[len(w.found)-1]
		f.Strength = 0.9 // they are there: open is only what they are
		f.Measures = append(f.Measures, Measure{seldomRise, 1, ""})
	} else if falls := w.betweenRests(stands, false); len(falls) >= few && w.wantedDrives(falls) {
		w.foundBoth(bothFall, falls)
	} else {
		w.findBothMidway()
	}
}

// seldomRise is the name of a measure: both leads rose together once or twice only, for as
// long as a drive, and were driven both ways at other times.
const seldomRise = "leads driven both ways beside"

// Both leads are up where the lower one stands above this share of what a lead has that is
// up, and down where the higher one stands below that.
const (
	leadsUp   = 0.7
	leadsDown = 0.3
)

// leadStands lists the times of leadsRest and more in which both leads are up or down.
// Leads that come up together in pulses, as the drive may, are up meanwhile: what lies
// between two pulses is no rest.
func (w *work) leadStands() []leadStand {
	b := w.tr.Both.Mean
	top := w.leadsTop()
	if top < 2*startVolts {
		return nil
	}
	var out []leadStand
	for i := range w.t {
		lower := float64(b[i])
		high := lower > leadsUp*top
		if w.drives(i, i+1) || !high && lower+math.Abs(w.d.mean[i]) > leadsDown*top {
			continue
		}
		if k := len(out) - 1; k >= 0 && out[k].high == high && out[k].last == i {
			out[k].last++
			continue
		}
		out = append(out, leadStand{i, i + 1, high})
	}
	out = w.joinPulses(out)
	return slices.DeleteFunc(out, func(s leadStand) bool { return s.last-s.first < 2 || w.lasts(s) < leadsRest })
}

// leadsTop is how high a lead stands that is up, in V: the height of the drives, or of what
// both leads stand at together where there is none.
func (w *work) leadsTop() float64 {
	if w.d.amp > 2*startVolts {
		return w.d.amp
	}
	top := 0.0
	for _, x := range w.tr.Both.Mean {
		top = math.Max(top, float64(x))
	}
	return top
}

// joinPulses makes one stand of those with both leads up that follow each other within less
// than a rest, without a drive between; stands are in order of time.
func (w *work) joinPulses(stands []leadStand) (out []leadStand) {
	up := -1 // in out, the last one with both leads up
	for _, s := range stands {
		if s.high && up >= 0 && lapse(w.t[s.first], w.t[out[up].last-1]) < leadsRest && !w.drives(out[up].last, s.first) {
			out = out[:up+1]
			out[up].last = s.last
			continue
		}
		if out = append(out, s); s.high {
			up = len(out) - 1
		}
	}
	return out
}

// lasts is how long, in s, a stand of the leads is.
func (w *work) lasts(s leadStand) float64 {
	return lapse(endOf(w.t, s.last, w.tr.Step), w.t[s.first])
}

// drives tells whether anything is driven in bins [first, last).
func (w *work) drives(first, last int) bool {
	return w.d.pol != nil && slices.ContainsFunc(w.d.pol[first:last], func(p int8) bool { return p != 0 })
}

// betweenRests lists the stands with both leads up, or down, that begin and end in one
// of the other kind without a drive in between, and in which the reading stands. Rests
// are those of the other kind only where it stands in them too: a shaft that moves is
// driven, by pulses that all fall between the rows, and its control rests the other way;
// so it does then in the few in which the shaft hardly got on.
func (w *work) betweenRests(stands []leadStand, high bool) []leadStand {
	// An edge may be slow, or a contact may bounce in it; a row may fall into it.
	meets := func(a, b leadStand) bool {
		return a.high != b.high && lapse(w.t[b.first], w.t[a.last-1]) < leadsRest+2*w.tr.Step && !w.drives(a.last, b.first)
	}
	var out []leadStand
	driven := 0
	for k := 1; k+1 < len(stands); k++ {
		if s := stands[k]; s.high != high || !meets(stands[k-1], s) || !meets(s, stands[k+1]) || !w.stillIn(s) {
			continue
		} else if w.goneIn(stands[k+1]) {
			driven++
		} else {
			out = append(out, s)
		}
	}
	if driven > len(out) {
		return nil
	}
	return out
}

// stillIn tells whether the reading stands while the leads do.
func (w *work) stillIn(s leadStand) bool {
	lo, hi := extremes(w.v[s.first:s.last])
	return hi-lo <= 2*w.tol
}

// goneIn tells whether the reading lies elsewhere at the end of a stand than at its
// beginning, by the middle of its rows there.
func (w *work) goneIn(s leadStand) bool {
	part := max(1, (s.last-s.first)/4)
	gone := medianOf(w.v[s.last-part:s.last]) - medianOf(w.v[s.first:s.first+part])
	return math.Abs(gone) > w.lim.NoiseSigmas*w.noise*math.Sqrt(2/float64(part))+w.quantum
}

// wantedDrives tells whether the stands can be nothing but drives that did not come:
// each as long as the drives of this capture, which from the first to the last of them
// go one way only.
func (w *work) wantedDrives(stands []leadStand) bool {
	ways := map[int8]bool{}
	for k := range w.moves {
		if m := &w.moves[k]; m.first > stands[0].first && m.last < stands[len(stands)-1].last {
			ways[m.Polarity] = true
		}
	}
	return len(ways) == 1 && w.lastAsDrives(stands)
}

// lastAsDrives tells whether each of the stands is as long as the drives of this capture.
func (w *work) lastAsDrives(stands []leadStand) bool {
	shortest, longest := math.Inf(1), 0.0
	for k := range w.moves {
		m := &w.moves[k]
		shortest, longest = math.Min(shortest, m.Duration()), math.Max(longest, m.Duration())
	}
	edge := leadsRest + 2*w.tr.Step
	return !slices.ContainsFunc(stands, func(s leadStand) bool {
		return w.lasts(s) < math.Max(shortest-edge, breakOnItsWay) || w.lasts(s) > longest+edge
	})
}

// midwayRises lists the breaks amid drives in which both leads are up, at a standstill
// and of any length. A control that pulses its drive so goes by its clock; one that
// somebody switches by hand at one lead does so too, and is told by what else is found:
// it raises none from rest.
func (w *work) midwayRises(stands []leadStand) []leadStand {
	var out []leadStand
	var lengths []opening
	for _, o := range w.breaks() {
		for _, s := range stands {
			if s.high && s.first < o.last && s.last > o.first && w.stillIn(s) {
				out, lengths = append(out, s), append(lengths, o)
			}
		}
	}
	if len(out) < 3 || !w.spreadLengths(lengths) {
		return nil
	}
	return out
}

// foundBoth reports the stands as drives that the second lead follows.
func (w *work) foundBoth(form string, stands []leadStand) {
	slices.SortFunc(stands, func(a, b leadStand) int { return a.first - b.first })
	var places []Occurrence
	longest := 0.0
	for _, s := range stands {
		lo, hi := extremes(w.v[s.first:s.last])
		places = append(places, Occurrence{Interval{w.t[s.first], w.t[s.last-1]}, Interval{lo, hi}, None})
		longest = math.Max(longest, w.lasts(s))
	}
	w.found = append(w.found, Finding{Kind: Ignored, Form: form, Volts: w.span, Time: Interval{places[0].Time.From, places[len(places)-1].Time.To},
		Tie: TieUnknown, TieP: 1, Event: "command", Seen: len(places), Passes: len(places), Places: places,
		Strength: 1 - math.Exp(-float64(len(places))/2), Measures: []Measure{{"commands without drive", float64(len(places)), ""}, {MeasureLongest, longest, "s"}}})
}
