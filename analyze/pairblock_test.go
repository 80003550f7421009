package analyze

import (
	"strings"
	"testing"
)

// Gears that are blocked at one place of their turn stop the shaft there coupled and
// uncoupled: such an uncoupled capture is no other actuator's, though the coupled one goes
// further at other times, and no door stops it. One that ends elsewhere still is another's,
// and an obstacle that uncoupled is run through is the door's. (Drawn.)
func TestBlockedUncoupledToo(t *testing.T) {
	t.Parallel()
	const at = 3.6 // V
	coupled := func(seed uint64) *draft {
		d := newDraft(seed)
		d.sweeps(2)
		d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > at && d.x < at+0.01 }
		for range 3 {
			d.run(12, 5).run(0, 1).run(-12, 5).run(0, 1)
		}
		return d
	}
	for seed := range uint64(3) {
		for _, c := range []struct {
			ends    float64 // uncoupled, V
			leftOut bool
			want    Fault
		}{{at, false, Motor}, {at - 0.4, true, DoorMechanism}, {4.5, false, DoorMechanism}} {
			free := newDraft(seed + 10)
			free.hi = c.ends
			a, x := examined(t, coupled(seed), false), examined(t, free.sweeps(3), true)
			a.Source, x.Source = "coupled.csv", "free.csv"
			r := Case{Now: []*Capture{a, x}}.Judge()
			if _, left := withoutOthers(r.Captures); r.Verdict.Conclusion != c.want || (len(left) > 0) != c.leftOut {
				t.Errorf("seed %d, ends at %.1f V: %s, left out %d: %s", seed, c.ends, r.Verdict.Conclusion, len(left), r.Verdict.Summary)
			}
			if inActuator := strings.Contains(r.Verdict.Summary, "stops it there is in the actuator"); inActuator != (c.want == Motor) {
				t.Errorf("seed %d, ends at %.1f V: %s", seed, c.ends, r.Verdict.Summary)
			}
		}
	}
}
