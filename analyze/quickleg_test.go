package analyze

import "testing"

// A quick actuator is at its stop in less than half a second, and what a way gets is told
// there too: half of the volts one way are a leg's. (Drawn.)
func TestQuickActuatorOnOneWeakLeg(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		up   float64 // V
		weak bool
	}{{4, true}, {12, false}} {
		d := newDraft(31)
		d.lo, d.hi, d.rate = 0.5, 1.1, 1.4
		d.run(0, 1)
		for range 4 {
			d.run(c.up, 3).run(0, 0.5).run(-12, 1).run(0, 0.5)
		}
		got, v := lookAt(t, d.trace())
		if f := formed(got, SupplySag, onePolarity); (f != nil) != c.weak || (v.Conclusion == WiringControl) != c.weak {
			t.Errorf("%g V up: %s", c.up, say(got, v))
		}
	}
}
