package analyze

import (
	"strings"
	"testing"
)

// An uncoupled capture that is unlike the coupled one by more than a door makes may be
// of another actuator: that is asked, and what an ordinary door does is not.
func TestUncoupledOfAnotherActuatorIsAsked(t *testing.T) {
	t.Parallel()
	steady := func(level float64) func(float64) float64 { return func(float64) float64 { return level } }
	plain := func(seed uint64, rate, hi float64) *draft {
		d := newDraft(seed)
		d.rate, d.hi = rate, hi
		return d.sweeps(3)
	}
	free := func(d *draft, volts float64) *Capture {
		c := fed(t, d, steady(volts))
		c.Free = true
		return c
	}
	coupled := fed(t, plain(1, 0.8, 4.4), steady(5))
	for _, c := range []struct {
		name string
		free *Capture
		want string // "" for nothing to ask
	}{
		{"the same", free(plain(2, 0.8, 4.4), 5), ""},
		{"with the load off", free(plain(2, 1.2, 4.6), 5), ""},
		{"three times as fast", free(plain(2, 2.4, 4.4), 5), "3.0 times as fast"},
		{"a third as fast", free(plain(2, 0.27, 4.4), 5), "34 % of the speed, both ways"},
		{"slower both ways", free(plain(2, 0.62, 4.4), 5), "are the two files swapped"},
		{"a little slower", free(plain(2, 0.72, 4.4), 5), ""},
		{"another supply", free(plain(2, 0.8, 4.4), 5.8), "supplied with 5.80 V, the coupled one with 5.00 V"},
	} {
		asked := strings.Join(Judge(coupled, c.free).Series.Doubtful, " ")
		if (asked == "") != (c.want == "") || !strings.Contains(asked, c.want) {
			t.Errorf("%s: %q", c.name, asked)
		}
	}
	short := fed(t, plain(1, 0.8, 2.9), steady(5))
	if asked := strings.Join(Judge(short, free(plain(2, 0.8, 4.4), 5)).Series.Doubtful, " "); !strings.Contains(asked, "its travel is 162 % of the coupled one") {
		t.Errorf("more travel: %q", asked)
	}
}

// Off its door nothing is told of the door.
func TestUncoupledAloneTellsNoDoor(t *testing.T) {
	t.Parallel()
	const want = "nothing of this tells how the door is"
	free := examineWith(t, newDraft(1).sweeps(3), nil, true)
	if said := strings.Join(Judge(free).Verdict.Unknown, " "); !strings.Contains(said, want) {
		t.Error(said)
	}
	coupled := examineWith(t, newDraft(2).sweeps(3), nil, false)
	if said := strings.Join(Judge(coupled, free).Verdict.Unknown, " "); strings.Contains(said, want) {
		t.Error(said)
	}
}

// A free run that is evidently another actuator's proves nothing about this one,
// unless the user says that it is of this one.
func TestAnotherActuatorsFreeRunDoesNotWeigh(t *testing.T) {
	t.Parallel()
	steady := func(float64) float64 { return 5 }
	plain := func(seed uint64, rate, hi float64) *draft {
		d := newDraft(seed)
		d.rate, d.hi = rate, hi
		return d
	}
	free := func(d *draft) *Capture {
		c := fed(t, d.sweeps(3), steady)
		c.Free, c.Source = true, "free.csv"
		return c
	}
	coupled := fed(t, plain(1, 0.8, 4.4).sweeps(3), steady)
	alone := Judge(coupled).Verdict.Probability
	turned := free(plain(2, 0.8, 4.4))
	turned.Sense = -turned.Sense
	for _, c := range []struct {
		name  string
		free  *Capture
		other bool
	}{
		{"the same", free(plain(2, 0.8, 4.4)), false},
		{"with the load off", free(plain(2, 1.2, 4.6)), false},
		{"three times as fast, as off a door that drags", free(plain(2, 2.4, 4.4)), false},
		{"the other sense", turned, true},
		{"slower both ways", free(plain(2, 0.4, 4.4)), true},
		{"a shorter travel", free(plain(2, 0.8, 3.2)), true},
	} {
		r := Case{Now: []*Capture{coupled, c.free}}.Judge()
		if left := len(r.Series.LeftOut) > 0; left != c.other || len(r.Captures) != 2 {
			t.Errorf("%s: left out %q of %d", c.name, r.Series.LeftOut, len(r.Captures))
		}
		if c.other && (r.Verdict.Probability != alone || len(r.Series.Doubtful) == 0) {
			t.Errorf("%s: %.3f, coupled alone %.3f; asked %q", c.name, r.Verdict.Probability, alone, r.Series.Doubtful)
		}
		if r := (Case{Now: []*Capture{coupled, c.free}, Same: true}).Judge(); len(r.Series.LeftOut) > 0 {
			t.Errorf("%s: left out though the user says that it is the same", c.name)
		}
	}
}

// A free run that slips shows why it is slower: it is weighed, and asked about.
func TestSlowerFreeRunWithItsOwnFaultIsWeighed(t *testing.T) {
	t.Parallel()
	steady := func(float64) float64 { return 5 }
	coupled := fed(t, newDraft(1).sweeps(3), steady)
	d := newDraft(2)
	d.rate /= 2
	slow := fed(t, d.sweeps(3), steady)
	slow.Free, slow.Source = true, "free.csv"
	for _, fault := range []bool{false, true} {
		if fault {
			w := make([]float64, faultCount)
			w[Motor] = 5
			slow.Findings = append(slow.Findings, Finding{Kind: GearSlip, Weights: w})
		}
		ask := strings.Join(unlikeFree([]*Capture{coupled, slow}), " ")
		if _, left := withoutOthers([]*Capture{coupled, slow}); (len(left) == 0) != fault || strings.Contains(ask, "the fault that shows uncoupled") != fault {
			t.Errorf("fault %v: left out %d, asked %q", fault, len(left), ask)
		}
	}
}

// Coupled captures of one actuator run about as fast: else that is asked.
func TestSeveralCoupledAreAskedWhetherOne(t *testing.T) {
	t.Parallel()
	at := func(seed uint64, rate float64) *Capture {
		d := newDraft(seed)
		d.rate *= rate
		// Never at a stop: the travel is not known.
		return examineWith(t, d.run(0, 1).run(12, 2/rate).run(0, 1).run(-12, 1.6/rate).run(0, 1).run(12, 1.6/rate).run(0, 1), nil, false)
	}
	for rate, asked := range map[float64]bool{1.3: false, 3: true} {
		said := strings.Join(Judge(at(1, 1), at(2, rate)).Series.Doubtful, " ")
		if strings.Contains(said, "are they of one actuator?") != asked {
			t.Errorf("%.1f times as fast: %q", rate, said)
		}
	}
}

// Nothing is proven against the other sense of drive, unless the user says that it is
// the same actuator.
func TestRepairOfTheOtherSense(t *testing.T) {
	t.Parallel()
	b, a := examineWith(t, binds(1, false), nil, false), examineWith(t, binds(2, true), nil, false)
	if r := (Case{Before: []*Capture{b}, Now: []*Capture{a}}).Judge().Repair; r.Result != RepairProven {
		t.Fatalf("alike: %s %s", r.Result, r.Text)
	}
	a.Sense = -a.Sense
	r := (Case{Before: []*Capture{b}, Now: []*Capture{a}}).Judge().Repair
	if r.Result != RepairUnclear || !strings.Contains(r.Text, "positive drive") || !strings.Contains(r.Text, "--same-actuator") {
		t.Errorf("turned over: %s %s", r.Result, r.Text)
	}
	if r := (Case{Before: []*Capture{b}, Now: []*Capture{a}, Same: true}).Judge().Repair; r.Result != RepairProven {
		t.Errorf("turned over, and said to be the same: %s %s", r.Result, r.Text)
	}
}

// Where only the sign of the drive was logged, a supply makes some of the pace, and
// not half of it.
func TestSlowerFreeRunOfASignOnly(t *testing.T) {
	t.Parallel()
	at := func(seed uint64, rate float64, signs bool) *Capture {
		d := newDraft(seed)
		d.rate, d.signOnly = rate, signs
		return examineWith(t, d.sweeps(3), nil, false)
	}
	for _, signs := range [][2]bool{{true, true}, {true, false}, {false, true}} {
		coupled := at(1, 0.8, signs[0])
		for rate, other := range map[float64]bool{0.4: true, 0.56: false, 0.8: false, 1.6: false} {
			free := at(2, rate, signs[1])
			free.Free = true
			ask := strings.Join(unlikeFree([]*Capture{coupled, free}), " ")
			if _, left := withoutOthers([]*Capture{coupled, free}); (len(left) > 0) != other || strings.Contains(ask, "no door speeds its actuator up both ways") != other {
				t.Errorf("signs only %v, free at %.2f: left out %d, asked %q", signs, rate, len(left), ask)
			}
		}
	}
}

// The travel of one actuator says nothing about that of another one, which is driven the
// other way round.
func TestTravelOfTheOtherSenseIsNotCompared(t *testing.T) {
	t.Parallel()
	short := newDraft(2)
	short.hi = 3.6
	b, a := examineWith(t, newDraft(1).sweeps(3), nil, false), examineWith(t, short.sweeps(3), nil, false)
	for _, turned := range []bool{false, true} {
		if turned {
			a.Sense = -a.Sense
		}
		for _, same := range []bool{false, true} {
			r := Case{Before: []*Capture{b}, Now: []*Capture{a}, Same: same}.Judge()
			if compared := !turned || same; (len(r.Repair.New) > 0) != compared || (r.Verdict.Conclusion == NoFault) == compared {
				t.Errorf("turned %v, same %v: new %v, %s", turned, same, r.Repair.New, r.Verdict.Conclusion)
			}
			if turned && !same && (r.Repair.Result != RepairUnclear || !strings.Contains(r.Repair.Text, "--same-actuator")) {
				t.Errorf("turned: %s %s", r.Repair.Result, r.Repair.Text)
			}
		}
	}
}
