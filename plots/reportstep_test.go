package plots

import (
	"strings"
	"testing"

	"threewire/analyze"
)

// turning is a verdict that a test may turn, with the chances of a gear slip.
func turning() *analyze.Report {
	return &analyze.Report{Verdict: analyze.Verdict{
		Conclusion: analyze.Motor, Probability: 0.86, Part: analyze.Motor.Part(),
		For:         []analyze.Evidence{{Because: "The reading falls back: gear teeth let go."}},
		PartChances: []analyze.PartChance{{Part: "actuator", Probability: 0.89}, {Part: "air case", Probability: 0.11}, {Part: "none"}},
		Next:        []analyze.NextTest{{Name: "Move the door by hand", Turns: true, Outcomes: []string{"if it binds: door mechanism 54 %"}}},
	}}
}

// priced adds prices by which the first test costs more than it saves, or less.
func priced(rep *analyze.Report, net float64, do, part string) *analyze.Report {
	rep.Choice = &analyze.RepairChoice{
		Choices: []analyze.Choice{{Do: do, Parts: []string{part}, Cures: 0.2}},
		Best:    &analyze.BestChoice{Do: do},
		Tests:   []analyze.TestWorth{{Name: "Move the door by hand", Net: net, Then: []analyze.TestThen{{Do: do}}}},
	}
	return rep
}

// The page and the prices give one advice: a test that does not pay is not asked for
// first, and what the prices begin with the page begins with too.
func TestPageFollowsThePrices(t *testing.T) {
	t.Parallel()
	const first, dear = "First make the test below", "A test beforehand would cost more"
	for _, c := range []struct {
		name       string
		rep        *analyze.Report
		says, lack string
		test       bool
	}{
		{"no prices", turning(), first, dear, true},
		{"it pays", priced(turning(), 9, "replace the actuator", "actuator"), first, dear, true},
		{"none pays", priced(turning(), -9, "replace the actuator", "actuator"), dear, first, false},
		{"another part", priced(turning(), -9, "open the air case", "air case"), "Open the air case first: it is the least dear way", first, false},
	} {
		step, test, _ := stepWords(c.rep)
		if !strings.Contains(step, c.says) || strings.Contains(step, c.lack) || (test != "") != c.test {
			t.Errorf("%s: %q, test %q", c.name, step, test)
		}
	}
	door := turning()
	door.Verdict.Conclusion, door.Verdict.Part = analyze.DoorMechanism, "air case"
	if step := doorStep(door); !strings.HasSuffix(step, "Do not renew the actuator for it.") {
		t.Errorf("without prices: %q", step)
	}
	door = priced(door, 9, "open the air case", "air case")
	door.Choice.Choices = append(door.Choice.Choices, analyze.Choice{Do: "replace the actuator", Parts: []string{"actuator"}})
	door.Choice.Tests[0].Then = append(door.Choice.Tests[0].Then, analyze.TestThen{Do: "replace the actuator"})
	if step := doorStep(door); !strings.HasSuffix(step, "before the test below.") {
		t.Errorf("the actuator comes first after an outcome: %q", step)
	}
}

// The customer reads why, what the outcomes mean, how sure the part to pay for is, and
// what follows if it does not cure; of a verdict that names nothing, none of it.
func TestPageSaysWhyAndWhatElse(t *testing.T) {
	t.Parallel()
	rep := turning()
	if s := whyWords(&rep.Verdict); s != "Why this points to the motor: the reading falls back: gear teeth let go." {
		t.Error(s)
	}
	if s := sureWords(&rep.Verdict); !strings.Contains(plainSpaces(s), "the actuator, is at fault with a chance of 89 %") {
		t.Error(s)
	}
	if s := elseWords(rep); !strings.Contains(plainSpaces(s), "most likely in the air case (now 11 %)") {
		t.Error(s)
	}
	if s := showsWords(rep, "Move the door by hand (about 10 minutes)"); len(s.Items) != 1 || !strings.HasPrefix(s.Items[0], "If it binds") {
		t.Errorf("%q", s.Items)
	}
	none := &analyze.Report{Verdict: analyze.Verdict{Conclusion: analyze.NoFault, Probability: 0.93, Part: "none"}}
	if s := whyWords(&none.Verdict) + elseWords(none) + partWords(&none.Verdict); s != "" {
		t.Errorf("of a sound one: %q", s)
	}
}

func plainSpaces(s string) string { return strings.ReplaceAll(s, bound, " ") }

// A repair that is not proven gets no tick and no "No repair", but what would settle it.
func TestUnprovenRepairOnThePage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		result analyze.RepairResult
		sign   analyze.Fault
		step   string
	}{
		{analyze.RepairUnclear, analyze.CannotTell, "Do not take the repair for proven yet"},
		{analyze.RepairNotProven, analyze.CannotTell, "The repair is not proven"},
		{analyze.RepairProven, analyze.NoFault, "Nothing more."},
	} {
		rep := &analyze.Report{Captures: []*analyze.Capture{{}}, Verdict: analyze.Verdict{Conclusion: analyze.NoFault, Probability: 0.93}}
		rep.Repair = &analyze.Repair{Result: c.result, Missing: []string{"jam: 11 more drives past 0.38 V (--profile)"}}
		w := wordsOf(rep, 0, ReportOptions{})
		settles := strings.Contains(strings.Join(w.Procedure.Items, " "), "11 more drives")
		if w.Fault != c.sign || !strings.HasPrefix(w.Step, c.step) || settles != (c.result != analyze.RepairProven) || strings.Contains(strings.Join(w.Procedure.Items, ""), "--") {
			t.Errorf("%s: sign %v, %q, %q", c.result, w.Fault, w.Step, w.Procedure.Items)
		}
	}
}
