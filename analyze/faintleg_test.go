package analyze

import "testing"

// anyOther asks a test for a verdict that is not wiring or control.
const anyOther = Fault(-9)

// A leg that hardly conducts leaves a few volts, from the start or from some moment on;
// what the control gives low and later in full, or what moves the shaft, is no dead leg.
// (Drawn.)
func TestLegThatLeavesAFewVolts(t *testing.T) {
	t.Parallel()
	draw := func(make func(d *draft)) func(uint64) *draft {
		return func(seed uint64) *draft {
			d := newDraft(seed)
			d.block = func(d *draft, _ float64) bool { return d.volts > -3 && d.volts < 3 } // too few to turn it
			d.run(0, 1)
			make(d)
			return d
		}
	}
	for _, c := range []struct {
		name  string
		make  func(seed uint64) *draft
		found bool
		want  Fault
	}{
		{"from the start", draw(func(d *draft) {
			d.run(12, 5).run(0, 1)
			for range 4 {
				d.run(-0.9, 0.5).run(0, 2)
			}
			d.run(12, 1).run(0, 1)
		}), true, WiringControl},
		{"from some moment on, in pulses", draw(func(d *draft) {
			d.run(12, 3).run(0, 1).run(-12, 2).run(0, 1).run(12, 1).run(0, 1)
			for range 4 {
				for range 8 {
					d.run(-1.3, 0.12).run(0, 0.14)
				}
				d.run(0, 2)
			}
		}), true, WiringControl},
		{"and pressed into the stop again", draw(func(d *draft) {
			d.run(12, 6).run(0, 1)
			for range 4 {
				d.run(-1.8, 1).run(0, 1).run(12, 1).run(0, 1)
			}
		}), true, WiringControl},
		{"few volts, and all of them later", draw(func(d *draft) {
			d.run(12, 3).run(0, 1)
			for range 4 {
				d.run(-1.8, 1).run(0, 1)
			}
			d.run(-12, 5).run(0, 1).run(12, 6).run(0, 1).run(-12, 6)
		}), false, anyOther},
		{"an offset of the instrument", draw(func(d *draft) {
			d.sweeps(3)
			for i := range d.drive {
				d.drive[i] -= 0.9
			}
		}), false, NoFault},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.make(seed))
			if (formed(got, OneWay, fewVolts) != nil) != c.found || c.want != anyOther && v.Conclusion != c.want || c.want == anyOther && v.Conclusion == WiringControl {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
