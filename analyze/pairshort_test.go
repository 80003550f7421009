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
		r := Judge(examined(t, d.sweeps(3), false), c.free)
		said := slices.ContainsFunc(r.Verdict.Against, func(e Evidence) bool {
			return e.Finding == FreeRun && strings.Contains(e.Because, "lever put on wrong")
		})
		if p := chance(r, NoFault); r.Verdict.Conclusion != NoFault || (p >= 0.9) != c.sure || said == c.sure {
			t.Errorf("%.0f %% short: %s at %.2f, said: %v", 100*c.short, r.Verdict.Conclusion, p, said)
		}
	}
}
