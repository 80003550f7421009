package analyze

import "testing"

// A lead that hangs in the air goes above the driven one as the motor is turned back; one
// that hangs on a driver cannot, whatever the control does with both leads up. (Drawn.)
func TestLeadAboveTheSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name       string
		up, upBoth float64 // V: the drive up, and where its lower lead stands
		down       float64
		diff, both float64 // V, in a pause amid each drive: the leads apart, and the lower of them
		found      bool
	}{
		{"opens, and the train turns the motor back", 12, 0, -12, -4, 12, true},
		{"brakes with both leads up", 12, 0, -12, 0, 12, false},
		{"lets go of the lower lead, and coasts", 12, 0, -12, 4, 8, false},
		{"both come up softly", 12, 0, -12, -3, 9, false},
		{"one lead has a bad ground, and gets few volts", 5.5, 8, -5, 0, 0, false},
	} {
		l := &leads{draft: newDraft(3)}
		paused := false
		l.block = func(*draft, float64) bool { return paused }
		l.drive(0, 0, 1)
		for range 3 {
			for _, v := range []float64{c.up, c.down} {
				both, sign := 0.0, -1.0
				if v > 0 {
					both, sign = c.upBoth, 1
				}
				l.drive(v, both, 2)
				paused = true
				for _, share := range []float64{1, 0.8, 0.6} { // as it runs down
					l.drive(sign*share*c.diff, c.both, 0.05)
				}
				l.drive(0, c.both, 0.2)
				paused = false
				l.drive(v, both, 4).drive(0, 0, 1.5)
			}
		}
		got, err := Examine(l.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		if f := formed(got, Broken, brokenFloats); (f != nil) != c.found || c.found && v.Conclusion != WiringControl {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
