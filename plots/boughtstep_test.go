package plots

import (
	"strings"
	"testing"

	"threewire/analyze"
)

// A page that advises a repair by the prices does not ask for more before parts are
// bought, in one breath.
func TestOpenVerdictAdvisesOneThing(t *testing.T) {
	t.Parallel()
	rep := &analyze.Report{Verdict: analyze.Verdict{Conclusion: analyze.CannotTell}, Compared: &analyze.Comparison{}}
	ask := "More must be known"
	if s := meaning(rep); !strings.Contains(s, ask) {
		t.Errorf("without prices: %q", s)
	}
	rep.Choice = &analyze.RepairChoice{Choices: []analyze.Choice{{Do: "replace the actuator", Parts: []string{analyze.Motor.Part()}, Cures: 0.65}},
		Best: &analyze.BestChoice{Do: "replace the actuator"}, Tests: []analyze.TestWorth{{Net: -9}}}
	if _, bought := boughtStep(rep); !bought || strings.Contains(meaning(rep), ask) {
		t.Errorf("prices that decide: bought %v, %q", bought, meaning(rep))
	}
}
