package analyze

import "math"

// bothRise is the form of drives in which the second lead follows the first.
const bothRise = "both leads rise together"

// findBothRise reports drives of which only the difference of the leads says that
// there were none: a lead is raised from rest, and the other, which nothing holds at
// ground, follows it through the motor. A brake shorts the motor likewise, but beside a
// drive and not between two rests, and a controller that rests with both leads up does
// not raise them.
func (w *work) findBothRise() {
	b := w.tr.Both
	if b == nil || len(b.Mean) != len(w.t) || w.tr.DriveIsPolarity {
		return
	}
	const (
		least = 0.2 // s, of a drive that would move something; shorter ones are brakes' edges
		rest  = 0.2 // s before and after it, in which neither is up
		few   = 3
	)
	top := 0.0
	for _, x := range b.Mean {
		top = math.Max(top, float64(x))
	}
	if w.d.amp > 2*startVolts {
		top = w.d.amp
	}
	if top < 2*startVolts {
		return
	}
	up := func(i int) bool { return float64(b.Mean[i]) > 0.7*top }
	var places []Occurrence
	longest := 0.0
	for i := 1; i < len(w.t); i++ {
		if !up(i) || up(i-1) {
			continue
		}
		a, z := i, i
		for z < len(w.t) && up(z) {
			z++
		}
		i = z
		// A row may fall into the rise.
		quiet := lapse(w.t[a], w.t[0]) >= rest
		for k := a - 2; k >= 0 && lapse(w.t[a], w.t[k]) < rest+2*w.tr.Step; k-- {
			quiet = quiet && (w.d.pol == nil || w.d.pol[k] == 0) && float64(b.Mean[k]) < 0.3*top
		}
		for k := z + 1; k < len(w.t) && lapse(w.t[k], w.t[z-1]) < rest+2*w.tr.Step; k++ {
			quiet = quiet && (w.d.pol == nil || w.d.pol[k] == 0) && float64(b.Mean[k]) < 0.3*top
		}
		d := lapse(endOf(w.t, z, w.tr.Step), w.t[a])
		lo, hi := extremes(w.v[a:z])
		if !quiet || d < least || z-a < 2 || hi-lo > 2*w.tol {
			continue
		}
		places = append(places, Occurrence{Interval{w.t[a], w.t[z-1]}, Interval{lo, hi}, None})
		longest = math.Max(longest, d)
	}
	if len(places) < few {
		return
	}
	w.found = append(w.found, Finding{Kind: Ignored, Form: bothRise, Volts: w.span, Time: Interval{places[0].Time.From, places[len(places)-1].Time.To},
		Tie: TieUnknown, TieP: 1, Event: "command", Seen: len(places), Passes: len(places), Places: places,
		Strength: 1 - math.Exp(-float64(len(places))/2), Measures: []Measure{{"commands without drive", float64(len(places)), ""}, {MeasureLongest, longest, "s"}}})
}
