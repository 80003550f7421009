package analyze

import (
	"math"
	"slices"
	"testing"
)

// A shaft that is slower one way by more than a door's weight makes: the current and a run
// off the door tell the motor from a load, and are among the next tests, with outcomes
// about that way. One that catches is asked whether it is held. (Drawn.)
func TestNextTestsOfAShaftSlowerOneWay(t *testing.T) {
	t.Parallel()
	slow := func(d *draft, dir float64) float64 {
		if dir < 0 {
			return 0.45
		}
		return 1
	}
	d := newDraft(8)
	d.speed = slow
	d.run(0, 1)
	for range 3 {
		d.run(12, 6).run(0, 0.5).run(-12, 12).run(0, 0.5)
	}
	c, v := look(t, d)
	if finding(c, UnevenWays) == nil {
		t.Fatalf("not found: %s", say(c, v))
	}
	for _, name := range []string{logCurrent, runItFree} {
		if !slices.Contains(namesOf(v), name) {
			t.Errorf("%s is not among %q of %s", name, namesOf(v), say(c, v))
		}
	}
	tests := openTrials([]*Capture{c})
	for _, tr := range tests {
		want := waysOutcomes(tr.name)
		if want != nil && tr.outcomes[0].text != want[0].text {
			t.Errorf("%s asks %q", tr.name, tr.outcomes[0].text)
		}
		for f := range faultCount {
			sum := 0.0
			for _, o := range tr.outcomes {
				sum += o.p[f]
			}
			if math.Abs(sum-1) > 1e-9 {
				t.Errorf("%s: the outcomes of %s add up to %g", tr.name, Fault(f), sum)
			}
		}
	}
	c.current = true
	if slices.ContainsFunc(openTrials([]*Capture{c}), func(tr trial) bool { return tr.name == logCurrent }) {
		t.Error("the current that was logged is asked for")
	}
	held := &Capture{Findings: []Finding{{Kind: UnevenWays}, {Kind: Jam}}}
	for _, tr := range openTrials([]*Capture{held}) {
		if want := waysOutcomes(tr.name); want != nil && tr.outcomes[0].text == want[0].text {
			t.Errorf("held: %s asks %q", tr.name, tr.outcomes[0].text)
		}
	}
}
