package analyze

import (
	"strings"
	"testing"
)

// What was never driven, or moved hardly at all, tested nothing: no number may read as
// if it were sound. A capture that moves is not of that kind, nor one that shows a fault.
func TestUntestedTellsNoChances(t *testing.T) {
	t.Parallel()
	still := newDraft(1).run(0, 20)
	jolt := newDraft(2).run(0, 10).run(12, 0.15).run(0, 10)
	stuck := newDraft(3)
	stuck.speed = func(*draft, float64) float64 { return 0 }
	stuck.run(0, 1).run(12, 8).run(0, 1).run(-12, 8).run(0, 1)
	for _, c := range []struct {
		name     string
		d        *draft
		untested bool
	}{
		{"never driven", still, true},
		{"one short drive", jolt, true},
		{"driven, and nothing moves", stuck, false},
		{"sweeps", newDraft(4).sweeps(3), false},
		{"one sweep", newDraft(5).sweeps(1), false},
	} {
		capture, _ := look(t, c.d)
		rep := Judge(capture)
		if rep.NothingSeen() != c.untested {
			t.Errorf("%s: nothing seen is %v: %s", c.name, rep.NothingSeen(), say(capture, rep.Verdict))
		}
		for _, n := range rep.Verdict.Next {
			for _, o := range n.Outcomes {
				if c.untested && strings.Contains(o, "%") {
					t.Errorf("%s: a chance without a test: %q", c.name, o)
				}
			}
		}
		if c.untested && strings.Contains(rep.Verdict.Summary, "%") {
			t.Errorf("%s: %q", c.name, rep.Verdict.Summary)
		}
	}
}
