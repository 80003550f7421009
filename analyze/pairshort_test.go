package analyze

import (
	"slices"
	"strings"
	"testing"
)

// chance is what a report gives a fault.
func chance(r *Report, f Fault) float64 {
	for _, c := range r.Verdict.Chances {
		if c.Fault == f {
			return c.Probability
		}
	}
	return 0
}

// A door that ends a seventh of the free travel early is no sure "no fault"; one that
// ends as early as most doors do is, and so is one whose uncoupled run was not driven on
// to its end.
func TestShortTravelIsNotSureToBeSound(t *testing.T) {
	t.Parallel()
	free := examined(t, newDraft(9).sweeps(3), true)
	unpressed := newDraft(9)
	unpressed.hi -= 0.14 * 4
	for _, c := range []struct {
		short float64
		free  *Capture
		sure  bool
	}{{0.14, free, false}, {0.17, free, false}, {0.05, free, true}, {0.14, examined(t, unpressed.sweeps(3), true), true}} {
		d := newDraft(8)
		d.hi -= 4 * c.short
		d.rate *= doorDrag
		r := Judge(examined(t, d.sweeps(3), false), c.free)
		said := slices.ContainsFunc(r.Verdict.Against, func(e Evidence) bool {
			return e.Finding == FreeRun && strings.Contains(e.Because, "lever put on wrong")
		})
		if p := chance(r, NoFault); r.Verdict.Conclusion != NoFault || (p >= 0.9) != c.sure || said == c.sure {
			t.Errorf("%.0f %% short: %s at %.2f, said: %v", 100*c.short, r.Verdict.Conclusion, p, said)
		}
	}
}

// doorDrag is what a good door leaves of the uncoupled speed, both ways.
const doorDrag = 0.85

// A control that is kept from its target by an obstacle asks for one way only. Where the
// uncoupled actuator runs both ways, that is no dead leg; where it too is driven one way
// only, it may be.
func TestPressedToAnObstacle(t *testing.T) {
	t.Parallel()
	pressed := func(seed uint64) *draft {
		d := newDraft(seed)
		d.hi -= 2.4
		d.run(12, 3)
		for range 8 {
			d.run(0, 1).run(12, 2)
		}
		return d
	}
	coupled := examined(t, pressed(3), false)
	if !coupled.shows(HalfDrive) {
		t.Fatal("not driven one way only")
	}
	both := Judge(coupled, examined(t, newDraft(4).sweeps(2), true))
	if both.Verdict.Conclusion != DoorMechanism {
		t.Errorf("runs both ways uncoupled: %s", both.Verdict.Conclusion)
	}
	one := newDraft(5).run(12, 6)
	for range 6 {
		one.run(0, 1).run(12, 2)
	}
	if r := Judge(coupled, examined(t, one, true)); chance(r, WiringControl) < chance(both, WiringControl) {
		t.Errorf("driven one way uncoupled too: %s", r.Verdict.Conclusion)
	}
}
