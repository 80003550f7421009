package analyze

import "testing"

// A drive that came in full and then comes with hardly any volts, either way, is lost on
// its way; what lies on the channel knows no polarity, and a shaft that is turned by hand
// makes volts as well. (Drawn.)
func TestDriveThatHardlyComesAnyMore(t *testing.T) {
	t.Parallel()
	draw := func(then func(d *draft)) func(uint64) *draft {
		return func(seed uint64) *draft {
			d := newDraft(seed)
			d.block = func(d *draft, _ float64) bool { return d.volts > -3 && d.volts < 3 } // too few to turn it
			d.run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1)
			then(d)
			return d
		}
	}
	byHand := func(seed uint64) *draft {
		d := newDraft(seed)
		d.run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1)
		d.speed = func(*draft, float64) float64 { return 6 }
		for range 2 {
			d.run(0.8, 3).run(0, 1).run(-0.8, 3).run(0, 1)
		}
		return d
	}
	for _, c := range []struct {
		name  string
		make  func(seed uint64) *draft
		found bool
		want  Fault
	}{
		{"feeble both ways from some moment on", draw(func(d *draft) {
			for range 2 {
				d.run(0.8, 3).run(0, 1).run(-0.8, 3).run(0, 1)
			}
		}), true, WiringControl},
		{"feeble for longer than it rests", draw(func(d *draft) {
			for range 2 {
				d.run(0.8, 9).run(0, 0.5).run(-0.8, 9).run(0, 0.5)
			}
		}), true, WiringControl},
		{"feeble for a while, then in full", draw(func(d *draft) {
			d.run(0.8, 3).run(0, 1).run(-0.8, 3).run(0, 1).run(0.8, 3).run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1)
		}), false, anyOther},
		{"an offset that comes and goes", draw(func(d *draft) {
			for range 4 {
				d.run(0.8, 3).run(0, 1)
			}
		}), false, anyOther},
		{"turned by hand", byHand, false, anyOther},
	} {
		for seed := range uint64(2) {
			got, v := look(t, c.make(seed))
			if (formed(got, SupplySag, hardlyAnyLeft) != nil) != c.found || c.want != anyOther && v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
