package analyze

import "testing"

// A driver that limits its current into a lead that touches ground gives it up and tries
// again by its clock. A control's own short pulses have all of its volts, or have nothing to
// do with its drives. (Drawn.)
func TestDriverThatTriesAgain(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		volts    float64 // of the pulses
		pause    float64 // s before the first and after the last of them
		bothWays bool
		found    bool
		want     Fault
	}{
		{"a lead chafes one way", 4.5, 0.18, false, true, WiringControl},
		{"both ways: a lead or the winding", 4.5, 0.18, true, true, WiringControl},
		{"nudges of all the volts", 12, 0.18, false, false, NoFault},
		{"pulses by themselves", 4.5, 0.9, false, false, NoFault},
	} {
		d := newDraft(4)
		d.dt = 0.002
		pulsing := false
		d.block = func(*draft, float64) bool { return pulsing }
		d.run(0, 1)
		full := (d.hi - d.lo) / d.rate
		for range 3 {
			for _, way := range []float64{1, -1} {
				if way < 0 && !c.bothWays {
					d.run(-12, full+0.5).run(0, 2)
					continue
				}
				d.run(12*way, full/2).run(0, c.pause)
				pulsing = true
				for k := range 4 {
					if k > 0 {
						d.run(0, 0.18)
					}
					d.run(c.volts*way, 0.024)
				}
				pulsing = false
				d.run(0, c.pause).run(12*way, full/2+0.5).run(0, 2)
			}
		}
		got, v := look(t, d)
		if f := formed(got, SupplySag, triesByClock); (f != nil) != c.found || v.Conclusion != c.want || c.found && c.bothWays == f.has(otherWayHeld) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
