package analyze

import (
	"math"
	"slices"
)

// couldHunt tells whether the hunting of a coupled capture could have come back in an
// uncoupled one: a control hunts about where it is sent. One that was never sent there,
// or was driven from stop to stop only, as a person does, tells nothing of it.
func couldHunt(captures []*Capture, c *Capture, f *Finding) bool {
	for _, x := range captures {
		if !x.Free || !x.endsOnTheWay() {
			continue
		}
		k, ok := levelScale(c, x)
		if !ok {
			continue
		}
		if f.has(huntsAnywhere) || x.wentTo(Interval{k * f.Volts.From, k * f.Volts.To}) {
			return true
		}
	}
	return false
}

// wentTo tells whether a drive ended in a band, as near as linkage and stops repeat.
func (c *Capture) wentTo(band Interval) bool {
	near := c.Span.Width() / 20
	return slices.ContainsFunc(c.Moves, func(m Move) bool {
		return m.Direction != None && m.Moving > 0 && m.End > band.From-near && m.End < band.To+near
	})
}

// endsOnTheWay tells whether a drive was ended while the shaft ran, clear of the ends of
// what was travelled: a control does that as its reading is right, and a stop does not.
func (c *Capture) endsOnTheWay() bool {
	clear := c.Span.Width() / 20 // linkage and coasting, as in chances
	for i := range c.Moves {
		m := &c.Moves[i]
		if m.Direction != None && m.Moving > 0 && m.Stalled == 0 && math.Min(m.End-c.Span.From, c.Span.To-m.End) > clear {
			return true
		}
	}
	return false
}

// huntNotCompared tells whether hunting was found coupled, and no uncoupled capture could
// have shown it.
func huntNotCompared(captures []*Capture) bool {
	coupled, free, could := false, false, false
	for _, c := range captures {
		free = free || c.Free
		for i := range c.Findings {
			if f := &c.Findings[i]; f.Kind == Hunting && f.force() > math.Log(3) {
				coupled = coupled || !c.Free
				could = could || c.Free || couldHunt(captures, c, f)
			}
		}
	}
	return coupled && free && !could
}

// stopUncoupled is the measure of hunting at an end that is the actuator's own stop.
const stopUncoupled = "ends at the same stop uncoupled"

// huntByUncoupled weighs hunting anew by what the uncoupled actuator shows of the place, and
// says what that is; nil where it shows nothing of it.
func huntByUncoupled(captures []*Capture, c *Capture, f *Finding) (weighed []float64, text string) {
	if f.has(leftAtOnce) && standsUncoupled(captures, c, f) {
		g := *f
		g.Measures = append(slices.Clone(f.Measures), Measure{stopUncoupled, 1, ""})
		weighed, _ = weights(&g)
		return weighed, "Uncoupled from the door, it ends at the stop about which it hunts: nothing stands in its way there."
	}
	if by, ok := wideUncoupled(captures, c, f); ok {
		return by, "By the travel that the uncoupled actuator shows, the swings of the hunting are wide: a person or a control at work."
	}
	return nil, ""
}

// standsUncoupled tells whether the end at which it hunts is where the uncoupled actuator
// ends too, nearer than an obstacle short of that stop could be told from it: a fiftieth of
// the travel, as in onePlace.
func standsUncoupled(captures []*Capture, c *Capture, f *Finding) bool {
	dir := None
	switch f.Form {
	case huntLowEnd:
		dir = Down
	case huntHighEnd:
		dir = Up
	}
	outermost := func(x *Capture) (at float64, ok bool) {
		i := slices.IndexFunc(x.Stops, func(s Stop) bool { return s.Extreme && s.Direction == dir })
		if i < 0 {
			return 0, false
		}
		return x.Stops[i].Level, true
	}
	here, ok := outermost(c)
	return ok && slices.ContainsFunc(captures, func(x *Capture) bool {
		k, same := levelScale(x, c)
		there, stood := outermost(x)
		return x.Free && same && stood && math.Abs(k*there-here) < k*x.Span.Width()/50
	})
}

// wideUncoupled weighs hunting anew by the travel of the uncoupled actuator, where that is
// seen to go far beyond what the coupled one went: what looks like an end of travel and a
// narrow swing may be a part of the way to and fro.
func wideUncoupled(captures []*Capture, c *Capture, f *Finding) (weighed []float64, ok bool) {
	swing, known := f.Measure(MeasureAmplitude)
	travel := 0.0
	for _, x := range captures {
		if k, same := levelScale(x, c); x.Free && same {
			travel = math.Max(travel, k*x.Span.Width())
		}
	}
	if !known || travel < 1.5*c.Span.Width() { // no more than stops and linkage differ by
		return nil, false
	}
	g := *f
	g.Measures = slices.Clone(f.Measures)
	for i := range g.Measures {
		if g.Measures[i].Name == "amplitude of span" {
			g.Measures[i].Value = 100 * swing / travel
		}
	}
	weighed, _ = weights(&g)
	return weighed, true
}
