package analyze

import "testing"

// Captures before a repair that hold no sure finding look sound or they do not: only of the
// former is it said that they show nothing wrong. (Drawn.)
func TestOpenBeforeTheRepair(t *testing.T) {
	t.Parallel()
	sound := examined(t, newDraft(1).sweeps(3), false)
	open := examined(t, newDraft(2).run(0, 1).run(12, 0.6).run(0, 1).run(-12, 0.6).run(0, 1), false)
	open.Checks = []PositionCheck{{Outcome: CheckGivenUp, Retries: 5, Text: "Drives in vain."}}
	for want, before := range map[string]*Capture{nothingBefore: sound, openBefore: open} {
		if r := ProveRepair([]*Capture{before}, []*Capture{sound}); r.Result != RepairUnclear || r.Text != want {
			t.Errorf("%s: %q, expected %q", r.Result, r.Text, want)
		}
	}
}
