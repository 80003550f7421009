package analyze

import (
	"slices"
	"testing"
)

// A report follows the prices only where no test pays and one repair is likelier to cure
// than not; and where the least dear repairs another part than the verdict's, that is known.
func TestPricesDecide(t *testing.T) {
	best := Choice{Do: "replace the actuator", Parts: []string{Motor.Part()}, Cures: 0.65}
	rep := &Report{Verdict: Verdict{Conclusion: CannotTell, Part: CannotTell.Part()},
		Choice: &RepairChoice{Best: &BestChoice{Do: best.Do}, Choices: []Choice{best}, Tests: []TestWorth{{Name: "a", Net: -9}}}}
	if c, ok := rep.PricesDecide(); !ok || c.Do != best.Do {
		t.Error("no test pays, and the prices do not decide")
	}
	rep.Choice.Tests[0].Net = 1
	if _, ok := rep.PricesDecide(); ok {
		t.Error("decide although a test pays")
	}
	rep.Choice.Tests[0].Net, rep.Choice.Choices[0].Cures = -9, 0.4
	if _, ok := rep.PricesDecide(); ok {
		t.Error("decide for a repair likelier not to cure")
	}
	rep.Verdict.Conclusion, rep.Verdict.Part = DoorMechanism, DoorMechanism.Part()
	if rep.NamedFirst() {
		t.Error("the actuator is taken for the air case")
	}
}

// What leads to one conclusion is told in one line.
func TestOutcomesThatAgreeAreOneLine(t *testing.T) {
	got := outcomeLines([]testShows{
		{"a", Motor, .6, Chance{NoFault, .4}}, {"b", FeedbackSensor, .8, Chance{NoFault, .2}}, {"c", Motor, .65, Chance{NoFault, .3}},
		{"d", Motor, .9, Chance{}}, {"e", FeedbackSensor, .38, Chance{WiringControl, .33}},
	})
	want := []string{"if a, or if c: motor 60 to 65 %", "if b: feedback sensor 80 %", "if d: motor 90 %", "if e: feedback sensor 38 %, wiring or control 33 %"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
