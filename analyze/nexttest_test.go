package analyze

import (
	"slices"
	"strings"
	"testing"
)

// namesOf lists the names of the next tests of a verdict.
func namesOf(v Verdict) []string {
	var out []string
	for _, n := range v.Next {
		out = append(out, n.Name)
	}
	return out
}

// Driven without an answer, the motor's current tells most: it must be offered.
func TestStuckAsksForCurrent(t *testing.T) {
	t.Parallel()
	d := newDraft(1)
	d.block = func(*draft, float64) bool { return true }
	d.x = 2.1
	c, v := look(t, d.sweeps(2))
	if v.Conclusion != CannotTell || !slices.Contains(namesOf(v), logCurrent) {
		t.Errorf("next tests %q of %s", namesOf(v), say(c, v))
	}
	if !slices.ContainsFunc(v.Unknown, func(s string) bool { return contains(s, "no motor current") }) {
		t.Errorf("the current is not missed: %q", v.Unknown)
	}
}

// What one capture gives a reason to test, a clean one beside it does not take away;
// what one of them has answered is answered.
func TestOpenTrialsOfTwoCaptures(t *testing.T) {
	t.Parallel()
	shift := &Capture{Source: "coupled", Findings: []Finding{{Kind: DriveShift, Form: underOneDrive}, {Kind: Jam}}}
	clean := &Capture{Source: "second"}
	names := func(c ...*Capture) (out []string) {
		for _, x := range openTrials(c) {
			out = append(out, x.name)
		}
		return out
	}
	one := names(shift)
	if two := names(shift, clean); !slices.Equal(one, two) {
		t.Errorf("with a clean capture beside it %q, without %q", two, one)
	}
	for _, want := range []string{logCurrent, "Move the instrument's ground", "Measure the wiper's wire against the motor leads"} {
		if !slices.Contains(one, want) {
			t.Errorf("%q does not offer %q", one, want)
		}
		if slices.Contains(names(clean), want) {
			t.Errorf("a clean capture offers %q", want)
		}
	}
	for what, answer := range map[string]*Capture{
		"Run it free":                {Free: true},
		logGoodSide:                  {Against: &AgainstProfile{Used: true}},
		"Log the sensor's reference": {reference: true},
		logCurrent:                   {current: true, Findings: []Finding{{Kind: Jam}}},
		fullSweeps:                   {Sweeps: make([]Sweep, enoughSweeps)},
	} {
		if !slices.Contains(one, what) || slices.Contains(names(shift, answer), what) {
			t.Errorf("%q: offered before %v, after it is answered %q", what, one, names(shift, answer))
		}
	}
	// Nothing stood while the current was logged: it is still open.
	if got := names(shift, &Capture{current: true}); !slices.Contains(got, logCurrent) {
		t.Errorf("with a current that no stand was logged with: %q", got)
	}
}

// A leg of the drive that is dead makes no sweeps: what is wanted is where its volts
// get lost.
func TestDeadLegAsksForVolts(t *testing.T) {
	t.Parallel()
	d := newDraft(1)
	d.signOnly, d.x = true, 1.5
	d.speed = func(_ *draft, dir float64) float64 { return max(0, dir) }
	d.run(0, 1)
	for range 5 {
		d.run(12, 0.5).run(0, 0.7).run(-12, 0.8).run(0, 0.7).run(-12, 0.8).run(0, 0.7)
	}
	c, v := look(t, d)
	if got := namesOf(v); finding(c, OneWay) == nil || slices.Contains(got, fullSweeps) || !slices.Contains(got, measureLeads) {
		t.Errorf("next tests %q of %s", got, say(c, v))
	}
}

// What each capture has, and what all of them have, are two numbers.
func TestSweepsOfAllCaptures(t *testing.T) {
	t.Parallel()
	one, _ := look(t, newDraft(1).sweeps(1))
	for _, n := range NextTests([]float64{.2, .2, .2, .2, .2}, []*Capture{one, one}) {
		if n.Name == fullSweeps && contains(strings.Join(n.Procedure, " "), "All captures together have 4") {
			return
		}
	}
	t.Errorf("no word of the sweeps of both: %+v", NextTests([]float64{.2, .2, .2, .2, .2}, []*Capture{one, one}))
}

// What only one of two captures lacks is said of that one, and a healthy side is
// something to compare with.
func TestUnknownOfTwoCaptures(t *testing.T) {
	t.Parallel()
	few, _ := look(t, newDraft(1).sweeps(1))
	many, _ := look(t, newDraft(2).sweeps(3))
	few.Source, many.Source = "few.csv", "many.csv"
	named, plain := 0, 0
	for _, s := range Judge(few, many).Verdict.Unknown {
		switch {
		case contains(s, "this capture has 2") && contains(s, "(few.csv)"):
			named++
		case contains(s, "no motor current") && !contains(s, ".csv"):
			plain++
		case contains(s, "this capture has"):
			t.Errorf("said of no capture: %q", s)
		}
	}
	if named != 1 || plain != 1 {
		t.Errorf("%d named, %d of both: %q", named, plain, Judge(few, many).Verdict.Unknown)
	}
	if v := (Case{Now: []*Capture{few}, Good: []*Capture{many}}).Judge().Verdict; slices.Contains(v.Unknown, noProfile) {
		t.Errorf("beside the healthy side: %q", v.Unknown)
	}
}

// trialNames lists the tests that captures leave open.
func trialNames(c ...*Capture) (out []string) {
	for _, x := range openTrials(c) {
		out = append(out, x.name)
	}
	return out
}

// What is even all along the travel, one way slower than the other, is in the motor or in
// its volts: neither a plug that is moved undriven nor the sensor's supply shows it.
func TestSlowerOneWayAsksForVolts(t *testing.T) {
	t.Parallel()
	clean := &Capture{Source: "coupled"}
	free := &Capture{Source: "free", Free: true, Findings: []Finding{{Kind: UnevenWays, Form: "uncoupled"}}}
	next := NextTests([]float64{.03, .003, .7, .003, .27}, []*Capture{clean, free})
	if len(next) == 0 || next[0].Name != logLeadVolts {
		t.Errorf("next tests %+v", next)
	}
	if got := trialNames(clean, free); slices.Contains(got, wiggle) || slices.Contains(got, logReference) {
		t.Errorf("offers what cannot show it: %q", got)
	}
	free.Findings[0].Measures = []Measure{{atSameVolts, 1, ""}}
	if got := trialNames(clean, free); slices.Contains(got, logLeadVolts) {
		t.Errorf("asks for volts that were logged: %q", got)
	}
	free.Findings = append(free.Findings, Finding{Kind: Dropouts})
	if got := trialNames(clean, free); !slices.Contains(got, wiggle) {
		t.Errorf("no wiggling for losses of signal: %q", got)
	}
}

// A motor that slows pass by pass is told from a load that grows by its current and by a
// rest: without a load it hardly warms, and no camera sees a drag grow.
func TestSlowingAsksForCurrentAndRest(t *testing.T) {
	t.Parallel()
	slow := &Capture{Findings: []Finding{{Kind: Heating}}}
	var got []string
	for _, n := range NextTests([]float64{.02, .001, .88, .09, .009}, []*Capture{slow}) {
		got = append(got, n.Name)
	}
	if !slices.Contains(got, logSlowing) || !slices.Contains(got, letCool) {
		t.Errorf("next tests %q", got)
	}
	open := trialNames(slow)
	for _, no := range []string{"Run it free", wiggle, logReference, "Look inside with an inspection camera"} {
		if slices.Contains(open, no) {
			t.Errorf("%q is offered for a slowing alone", no)
		}
	}
	slow.current = true
	if slices.Contains(trialNames(slow), logSlowing) {
		t.Error("asks for a current that was logged")
	}
}

// A feed that gives way under load is measured along its wires while the motor is held:
// moving a plug makes no reading jump that stands at a stop. What comes and goes, and what
// loses no volts, is not measured so.
func TestSaggingFeedAsksWhereTheVoltsGo(t *testing.T) {
	t.Parallel()
	p := []float64{.03, .002, .1, .002, .866}
	sag := &Capture{Findings: []Finding{{Kind: SupplySag, Form: sagByLoads}}}
	next := NextTests(p, []*Capture{sag})
	if len(next) == 0 || next[0].Name != measureFeed || !next[0].Turns || !slices.Contains(next[0].Cautions, cautionLive) {
		t.Errorf("next tests %+v", next)
	}
	if got := trialNames(sag); slices.Contains(got, wiggle) {
		t.Errorf("offers what cannot show it: %q", got)
	}
	for _, other := range []Finding{{Kind: SupplySag, Form: comesAndGoes}, {Kind: Dropouts}, {Kind: Jam}} {
		if got := trialNames(&Capture{Findings: []Finding{other}}); slices.Contains(got, measureFeed) || !slices.Contains(got, wiggle) {
			t.Errorf("%s, %s: %q", other.Kind, other.Form, got)
		}
	}
	if got := trialNames(&Capture{}); slices.Contains(got, measureFeed) {
		t.Errorf("offered where nothing was found: %q", got)
	}
}
