package analyze

import "testing"

// slowSlips draws a wiper that slips, while the shaft goes on, by the given volts against
// the drive from each of the given moments on, or a shaft that stands for as long.
func slowSlips(seed uint64, by float64, shaftGoesOn bool, when ...float64) *draft {
	d := newDraft(seed)
	lag, last, before := 0.0, 0.0, d.x
	slipping := func(d *draft) bool {
		for _, t := range when {
			if d.t >= t && d.t < t+by/d.rate {
				return true
			}
		}
		return false
	}
	d.block = func(d *draft, _ float64) bool { return !shaftGoesOn && slipping(d) }
	d.read = func(d *draft) float64 {
		if step := d.x - before; slipping(d) && d.t > last {
			lag -= step
		}
		before, last = d.x, d.t
		return d.x + lag
	}
	return d
}

// TestSlippedStands draws wipers that slip slowly under drive, and shafts that stand.
func TestSlippedStands(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			d    *draft
			want bool
		}{
			{"against the drive, up and down", slowSlips(seed, 0.3, true, 16, 24, 30).sweeps(4), true},
			{"twice going down", func() *draft {
				d := slowSlips(seed, 0.2, true, 9, 19, 31)
				d.hi = 3.8
				return d.sweeps(4)
			}(), true},
			{"the shaft stands", slowSlips(seed, 0.3, false, 16).sweeps(3), false},
			{"the shaft stands, and an obstacle fell in", func() *draft {
				d := slowSlips(seed, 0.3, false, 16)
				stands := d.block
				d.block = func(d *draft, dir float64) bool { return stands(d, dir) || d.t > 17 && dir > 0 && d.x > 4.2 }
				return d.sweeps(3)
			}(), false},
		} {
			r := judgedDraft(t, c.d)
			got := finding(r.Captures[0], LastingLeap)
			if found := got != nil && got.Form == leapStood; found != c.want || found != (r.Verdict.Conclusion == FeedbackSensor) {
				t.Errorf("%s, seed %d: %v, want %v: %s", c.name, seed, found, c.want, r.Verdict.Summary)
			}
		}
	}
}
