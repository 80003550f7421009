package analyze

import "fmt"

// ownStop tells whether a finding blames a stop for lying far inside the
// supply where the uncoupled actuator, which no door can stop, runs no further
// than linkage and stops give.
func (u *uncoupling) ownStop(coupled *Capture, f *Finding) bool {
	if !f.blamesStop() {
		return false
	}
	for _, c := range u.captures {
		if !c.Free {
			continue
		}
		k, ok := levelScale(c, coupled)
		if !ok {
			continue
		}
		for _, s := range c.Stops {
			if further := float64(f.Direction) * (k*s.Level - f.Volts.Mid()); s.Extreme && s.Direction == f.Direction && further < freePlay*k*c.Span.Width() {
				if further > sameStop*k*c.Span.Width() && further > u.further {
					u.further = further
					u.ends = fmt.Sprintf("it ends at %s, coupled at %s: no further apart than linkage and stops give, so nothing shows that the door ends the travel", amount(k*s.Level, coupled.Unit), amount(f.Volts.Mid(), coupled.Unit))
				}
				return true
			}
		}
	}
	return false
}

// sameStop is the share of the travel up to which two stops are told as the same one: a
// percentage of it, as rounded, is not told apart.
const sameStop = 0.01
