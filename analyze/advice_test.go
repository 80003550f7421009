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
		{text: "a", fault: Motor, p: .6, next: Chance{NoFault, .4}}, {text: "b", fault: FeedbackSensor, p: .8, next: Chance{NoFault, .2}}, {text: "c", fault: Motor, p: .65, next: Chance{NoFault, .3}},
		{text: "d", fault: Motor, p: .9}, {text: "e", fault: FeedbackSensor, p: .38, next: Chance{WiringControl, .33}},
	})
	want := []string{"if a, or if c: motor 60 to 65 %", "if b: feedback sensor 80 %", "if d: motor 90 %", "if e: feedback sensor 38 %, wiring or control 33 %"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// An outcome that speaks for a fault which stays the less likely one says so: the bare name
// of the likelier would read as if the outcome spoke for it.
func TestOutcomeAgainstTheLikeliestSaysWhatItRaises(t *testing.T) {
	line := func(before, after []float64) string {
		best := slices.Index(after, slices.Max(after))
		return outcomeLines([]testShows{{"it jumps", Fault(best), after[best], nextBest(after, best), before[best], raisedMost(before, after)}})[0]
	}
	before, after := make([]float64, int(WiringControl)+1), make([]float64, int(WiringControl)+1)
	before[FeedbackSensor], before[WiringControl] = .95, .05
	after[FeedbackSensor], after[WiringControl] = .75, .25
	if got := line(before, after); got != "if it jumps: wiring or control rises from 5 to 25 %, feedback sensor stays likelier, 75 %" {
		t.Errorf("%q", got)
	}
	// The other way round the outcome speaks for what it leaves likelier.
	if got := line(after, before); got != "if it jumps: feedback sensor 95 %" {
		t.Errorf("%q", got)
	}
	// And where it turns the order, nothing stays.
	after[FeedbackSensor], after[WiringControl] = .2, .8
	if got := line(before, after); got != "if it jumps: wiring or control 80 %" {
		t.Errorf("%q", got)
	}
}
