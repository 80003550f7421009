package analyze

import (
	"strings"
	"testing"
)

// tapped draws a sound actuator that a control drives anew into the high stop on which it
// rests, at a share of its speed.
func tapped(seed uint64, rate float64) *draft {
	d := newDraft(seed)
	d.rate *= rate
	d.run(0, 1).run(12, 9).run(0, 0.5).run(-12, 9).run(0, 0.5).run(12, 9)
	for range 4 {
		d.run(0, 3).run(12, 0.7)
	}
	return d.run(0, 1).run(-12, 9).run(0, 0.5).run(12, 9).run(0, 1)
}

// What sound captures before show as well is no news, and does not blame the door for a
// shaft that runs slower since; the headline says what is new. (Drawn.)
func TestOnlyNewsWeighs(t *testing.T) {
	t.Parallel()
	before, now := examineDraft(t, tapped(1, 1)), examineDraft(t, tapped(2, 0.7))
	if judge([]*Capture{before}, nil).Verdict.Conclusion != NoFault || finding(before, Jam) == nil || finding(now, Jam) == nil {
		t.Fatalf("before: %v, now: %v", titlesOf(before), titlesOf(now))
	}
	got := onlyNews([]*Capture{before}, []*Capture{now})
	if f := finding(got[0], Jam); f.force() != 0 || !strings.Contains(f.Because, "no news") {
		t.Errorf("weighs %v: %s", f.Weights, f.Because)
	}
	if f := finding(now, Jam); f.force() == 0 {
		t.Error("the capture itself was changed")
	}
	r := Case{Now: []*Capture{now}, Before: []*Capture{before}}.Judge()
	if r.Repair.Result != RepairNotProven || !strings.Contains(r.Repair.Text, "(it runs at 7") {
		t.Errorf("%s: %s", r.Repair.Result, r.Repair.Text)
	}
	if p := r.Verdict.Chances; r.Verdict.Conclusion == DoorMechanism {
		t.Errorf("%v", p)
	}
	// Against a capture that shows a fault, and of what the one before did not show, all weighs.
	for name, b := range map[string]*Capture{"faulty": examineDraft(t, hole(3, 1).sweeps(3)), "without": examineDraft(t, newDraft(3).sweeps(3))} {
		if c := onlyNews([]*Capture{b}, []*Capture{now})[0]; c != now {
			t.Errorf("%s before: something of now was left out", name)
		}
	}
}

// A complaint is proven gone though the actuator runs otherwise than before; that is said
// and is no complaint. (Drawn.)
func TestRepairSaysWhatDiffers(t *testing.T) {
	t.Parallel()
	slow := hole(1, 1)
	slow.rate = 0.55
	r := prove(t, slow.sweeps(3), newDraft(2).sweeps(3))
	if r.Result != RepairProven || len(r.Differs) != 1 || !strings.Contains(r.Text, "same door") || ofKind(r, WeakDrive) != nil {
		t.Errorf("%s: %s %+v", r.Result, r.Text, r.Findings)
	}
	weak := newDraft(3)
	weak.rate = 0.45
	if f := ofKind(prove(t, weak.sweeps(1), newDraft(2).run(-12, 1.5).run(0, 0.5).run(12, 6).run(0, 0.5)), WeakDrive); f == nil || !strings.Contains(f.Because, "more full sweep") {
		t.Errorf("too few sweeps: %+v", f)
	}
	if r := prove(t, hole(1, 1).sweeps(3), newDraft(2).sweeps(3)); len(r.Differs) != 0 || strings.Contains(r.Text, "same door") {
		t.Errorf("alike: %s", r.Text)
	}
}

// Captures of one series of which each shows what the other does not, at other speeds, are
// asked about; one actuator's are not. (Drawn.)
func TestTroublesOfTwoActuators(t *testing.T) {
	t.Parallel()
	jam := func() *draft { return blockedFrom(1, 26).sweeps(4) }
	spot := func(rate float64) *draft {
		d := hole(2, 1)
		d.rate = rate
		return d.sweeps(4)
	}
	for _, c := range []struct {
		name string
		b    *draft
		want bool
	}{
		{"slow, another fault", spot(0.45), true},
		{"as fast, another fault", spot(0.8), false},
		{"slow, no fault", func() *draft { d := newDraft(3); d.rate = 0.45; return d.sweeps(4) }(), false},
		{"the same fault", func() *draft { d := blockedFrom(4, 40); d.rate = 0.45; return d.sweeps(4) }(), false},
	} {
		a, b := examineDraft(t, jam()), examineDraft(t, c.b)
		a.Source, b.Source = "a.csv", "b.csv"
		r := Case{Now: []*Capture{a, b}}.Judge()
		if got := strings.Contains(r.Verdict.Summary, "may be of different actuators"); got != c.want || got != (len(r.Series.Doubtful) > 0) {
			t.Errorf("%s: %s %q", c.name, r.Verdict.Summary, r.Series.Doubtful)
		}
		if r := (Case{Now: []*Capture{a, b}, Same: true}).Judge(); len(r.Series.Doubtful) > 0 {
			t.Errorf("%s, said to be of one: %q", c.name, r.Series.Doubtful)
		}
	}
}
