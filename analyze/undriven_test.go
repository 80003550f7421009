package analyze

import (
	"slices"
	"testing"
)

// A capture without drive shows nothing to clear or blame; what is wanted is where the
// drive gets lost, and no test that needs one.
func TestUndriven(t *testing.T) {
	t.Parallel()
	still := newDraft(1).run(0, 10)
	byHand := newDraft(1).run(0, 5)
	for range 2 { // there and back, so that it ends where it began
		byHand.run(12, 5).run(0, 1).run(-12, 5).run(0, 1)
	}
	for i := range byHand.drive {
		byHand.drive[i] = 0
	}
	for name, x := range map[string]struct {
		d       *draft
		summary string
		travels bool
	}{
		"still": {still, "never driven", false}, "moved by hand": {byHand, "yet the reading travels", true},
	} {
		c, v := look(t, x.d)
		if v.Conclusion != CannotTell || !contains(v.Summary, x.summary) || finding(c, NoDrive) == nil || (finding(c, SelfMotion) != nil) != x.travels {
			t.Errorf("%s: %q, %s", name, v.Summary, say(c, v))
		}
		got := namesOf(v)
		if len(got) == 0 || got[0] != measureLeads {
			t.Errorf("%s: next tests %q", name, got)
		}
		for _, no := range []string{"Run it free", "Move the door by hand", logGoodSide, logCurrent, "Look inside with an inspection camera"} {
			if slices.ContainsFunc(openTrials([]*Capture{c}), func(x trial) bool { return x.name == no }) {
				t.Errorf("%s: offers %q", name, no)
			}
		}
		for _, s := range v.Unknown {
			if contains(s, "no motion") {
				t.Errorf("%s: %q", name, s)
			}
		}
	}
}
