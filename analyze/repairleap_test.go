package analyze

import (
	"math"
	"testing"
)

// After a leap the reading went on from elsewhere: a capture that has its stops
// where they were after the leap has not lost it, though it does not leap again,
// and one whose stops are those of before has.
func TestRepairOfALeapThatGoesOn(t *testing.T) {
	t.Parallel()
	off := func(from float64) func(uint64) *draft {
		return func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t >= from {
					return 0.7 * d.x
				}
				return d.x
			}
			return d.sweeps(4)
		}
	}
	for _, c := range []struct {
		name string
		from float64
		want RepairResult
	}{{"as before the leap", math.Inf(1), RepairProven}, {"as after the leap", 0, RepairNotProven}} {
		r := prove(t, off(20.5)(1), off(c.from)(11))
		if len(r.Findings) == 0 || r.Findings[0].Finding != LastingLeap || r.Result != c.want {
			t.Errorf("%s: %s: %s\n%+v", c.name, r.Result, r.Text, r.Findings)
		}
	}
}
