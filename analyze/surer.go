package analyze

import "fmt"

// Surer says what would make "no fault" surer where the captures show but a part of what
// an actuator does, the first first; empty where something was found, where further tests
// are offered with their outcomes, and where both stops were reached again and again.
func (r *Report) Surer() []string {
	v := &r.Verdict
	if v.Conclusion != NoFault || v.WorthTesting() {
		return nil
	}
	var reached [2]bool
	current, most := false, 0
	for _, c := range r.Captures {
		for _, s := range c.Stops {
			if s.Extreme {
				reached[side(s.Direction)] = true
			}
		}
		current = current || c.current
		most = max(most, len(c.Sweeps))
	}
	var out []string
	switch {
	case !reached[0] && !reached[1]:
		out = append(out, "Drive it to both stops and hold each for a second: neither was reached, and what fails at an end was not seen")
	case !reached[0]:
		out = append(out, "Drive it also to the stop at which the reading is low, and hold it there for a second: what fails at that end was not seen")
	case !reached[1]:
		out = append(out, "Drive it also to the stop at which the reading is high, and hold it there for a second: what fails at that end was not seen")
	}
	if most < 4 { // see [heatingPasses] and the visits that drift takes
		out = append(out, fmt.Sprintf("Log three full sweeps each way, six runs from stop to stop, in one capture: drift and heating take four runs or more, and it has %s", orNone(float64(most))))
	}
	if len(out) > 0 && !current {
		out = append(out, "Log the motor current too, where there is a clamp: a door or gears that begin to labour show there first")
	}
	return out
}
