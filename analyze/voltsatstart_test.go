package analyze

import (
	"math"
	"testing"
)

// In few rows a motor is up to speed before the first are past: its volts at the start are
// followed back to where it stood, and are those of a stop that is met once only. A control that starts gently and
// turns down at the stops has others there. (Drawn from V = V0 - R I.)
func TestVoltsAtStartOfFewRows(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		start, stand float64 // V
		ramp         bool
		want         Fault
	}{
		{"resistance in the feed", 6.5, 6.5, false, WiringControl},
		{"turned down at the stops", 10.5, 6.5, false, NoFault},
		{"turned down at the stops, started gently", 2, 6.5, true, NoFault},
		{"as it should be", 9.6, 9.6, false, NoFault},
	} {
		d := newDraft(4)
		const full, tau = 10.5, 0.02 // V, s
		held := false                // against the stop, once only
		move := func(dir float64) {
			for k := range 16 { // the first 80 ms
				at := float64(k) * d.dt
				v := full - (full-c.start)*math.Exp(-at/tau)
				if c.ramp {
					v = c.start + (full-c.start)*at/0.08
				}
				d.run(dir*v, d.dt)
			}
			for (dir > 0 && d.x < d.hi) || (dir < 0 && d.x > d.lo) {
				d.run(dir*full, d.dt)
			}
			if dir > 0 && !held {
				d.run(dir*c.stand, 1.5)
			}
			held = true
			d.run(0, 0.6)
		}
		d.run(0, 1)
		for range 3 {
			move(1)
			move(-1)
		}
		got, v := lookAt(t, d.trace())
		if v.Conclusion != c.want || (finding(got, SupplySag) != nil) != (c.want == WiringControl) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
