package analyze

import (
	"fmt"
	"math"
	"slices"
)

// Surer says what would make "no fault" surer where the captures show but a part of what
// an actuator does, the first first; empty where something was found, where further tests
// are offered with their outcomes, and where both stops were reached again and again.
func (r *Report) Surer() []string {
	v := &r.Verdict
	if v.Conclusion != NoFault || v.WorthTesting() {
		return nil
	}
	current, most := false, 0
	for _, c := range r.Captures {
		current = current || c.current
		most = max(most, len(c.Sweeps))
	}
	var out []string
	if ends := unreached(r.Captures); ends != "" {
		out = append(out, ends)
	}
	if most < 4 { // see [heatingPasses] and the visits that drift takes
		out = append(out, fmt.Sprintf("Log three full sweeps each way, six runs from stop to stop, in one capture: drift and heating take four runs or more, and it has %s", orNone(float64(most))))
	}
	if len(out) > 0 && !current {
		out = append(out, "Log the motor current too, where there is a clamp: a door or gears that begin to labour show there first")
	}
	return out
}

// unreached asks for the stops that no capture reached, with the door where one of them
// is of the door: uncoupled it goes where the door may not follow. Empty where both were.
func unreached(captures []*Capture) string {
	var reached [2]bool
	with := withDoor(captures)
	for _, c := range with {
		for _, s := range c.Stops {
			if s.Extreme {
				reached[side(s.Direction)] = true
			}
		}
	}
	on := ""
	if len(with) < len(captures) {
		on = " with the door on"
	}
	text := ""
	switch {
	case reached[0] && reached[1]:
		return ""
	case !reached[0] && !reached[1]:
		text = "Drive it" + on + " to both stops and hold each for a second: neither was reached, and what fails at an end was not seen"
	case !reached[0]:
		text = "Drive it" + on + " also to the stop at which the reading is low, and hold it there for a second: what fails at that end was not seen"
	default:
		text = "Drive it" + on + " also to the stop at which the reading is high, and hold it there for a second: what fails at that end was not seen"
	}
	if on != "" {
		text += untried(with, captures)
	}
	return text
}

// untried says which part of the uncoupled way the coupled captures went over; empty
// where the uncoupled way is not known, and where they went over all that a meter shows.
func untried(with, captures []*Capture) string {
	const shown = 0.01 // of the unit, as it is written
	c := with[0]
	way, ok := freeTravel(c, captures)
	if !ok {
		return ""
	}
	span := c.Span
	for _, x := range with[1:] {
		if k, ok := levelScale(x, c); ok {
			span = Interval{math.Min(span.From, k*x.Span.From), math.Max(span.To, k*x.Span.To)}
		}
	}
	if span.From-way.From < shown && way.To-span.To < shown {
		return ""
	}
	return fmt.Sprintf(". With the door it went from %.2f to %.2f %s, without it from %.2f to %.2f: the rest was never tried with the door", span.From, span.To, c.Unit, way.From, way.To)
}

// withDoor are the coupled captures, or all where none is coupled.
func withDoor(captures []*Capture) []*Capture {
	with := slices.DeleteFunc(slices.Clone(captures), func(c *Capture) bool { return c.Free })
	if len(with) == 0 {
		return captures
	}
	return with
}
