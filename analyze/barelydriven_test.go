package analyze

import "testing"

// A control that turns its drive down before a target and holds it at volts that hardly
// carry the load lets the shaft creep, and hold now and then: no place catches there. The same
// holds at a place under full drive, and with the drive turned down while three quarters of
// the speed are left, are a door's.
func TestHoldsWhereBarelyDriven(t *testing.T) {
	for _, c := range []struct {
		name   string
		last   float64 // V, to which the drive is turned down before the target
		none   bool    // of findings that the shaft stood
		sticks float64 // V about which the shaft holds in each pass, 0 nowhere
	}{
		{"creeps to its targets", 4, true, 0},
		{"catches at full drive", 4, false, 3.2},
		{"catches, turned down a little", 10, false, 2.6},
	} {
		d := newDraft(3)
		d.dt, d.noise, d.quantum, d.rate, d.lo, d.hi, d.x = 0.05, 0.0008, 0.00122, 0.36, 0.4, 4.2, 4.2
		held := 0.0
		// V0 of the load is 3 V of 12; creeping, the shaft holds for 0.4 s in each 0.9 s.
		d.speed = func(d *draft, dir float64) float64 {
			v := dir * d.volts
			k := (v - 3) / 9 * 12 / v
			if held += d.dt; v < 5 && int(held/0.45)%2 == 0 {
				return 0
			}
			return max(0, k)
		}
		since := 0.0
		d.block = func(d *draft, dir float64) bool {
			if c.sticks == 0 || dir > 0 || d.x > c.sticks || d.x < c.sticks-0.03 {
				since = 0
				return false
			}
			since += d.dt
			return since < 0.4
		}
		d.run(0, 1)
		for range 4 {
			for d.x > 2.9 {
				d.run(-12, 0.05)
			}
			for v := 12.0; v > c.last; v -= 0.4 {
				d.run(-v, 0.05)
			}
			d.run(-c.last, 4).run(0, 1).run(12, 14).run(0, 1)
		}
		got, v := look(t, d)
		if stood := finding(got, SlowZone) != nil || finding(got, Pauses) != nil || finding(got, StickSlip) != nil; stood == c.none {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
