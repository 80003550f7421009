package analyze

import (
	"testing"
)

// A reading that creeps the same way at both stops drifts; what gives way at each of them
// creeps outwards at both, and a shaft that was held twice short of a stop does not creep.
// (Drawn.)
func TestReadingThatCreepsAtBothStops(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		creep  float64 // V/s, everywhere
		yields float64 // V/s, in the direction it is pressed
		drifts bool
	}{
		{"drifts", 0.006, 0, true},
		{"gives way at either stop", 0, 0.006, false},
		{"still", 0, 0, false},
	} {
		d := newDraft(6)
		d.dt, d.rate = 0.02, 0.25
		yield := 0.0
		d.read = func(d *draft) float64 {
			switch {
			case d.volts > 0 && d.x == d.hi, d.volts < 0 && d.x == d.lo:
				yield += c.yields * d.dt * d.volts / 12
			default:
				yield = 0
			}
			return d.x + c.creep*d.t + yield
		}
		d.lo, d.hi, d.x = 1, 3.4, 1
		d.run(12, 20).run(-12, 20).run(12, 20).run(-12, 3)
		got, v := look(t, d)
		if (formed(got, SpanDrift, byStands) != nil) != c.drifts || c.drifts && v.Conclusion == DoorMechanism || !c.drifts && v.Conclusion != NoFault {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
