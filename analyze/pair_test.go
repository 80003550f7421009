package analyze

import (
	"slices"
	"strings"
	"testing"
)

// binds drafts an actuator whose door binds in one band, coupled or free.
func binds(seed uint64, free bool) *draft {
	d := newDraft(seed)
	d.speed = func(d *draft, dir float64) float64 {
		if !free && d.x > 2 && d.x < 2.6 {
			return 0.5
		}
		return 1
	}
	for range 3 {
		d.run(12, 8).run(0, 0.5).run(-12, 8).run(0, 0.5)
	}
	return d
}

// examined measures a draft, coupled or free.
func examined(t *testing.T, d *draft, free bool) *Capture {
	t.Helper()
	o := Defaults()
	o.Free = free
	c, err := Examine(d.trace(), o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Trade fact (common practice, no source): a symptom that leaves when the
// actuator is uncoupled belongs to the door; one that stays does not.
func TestFreeRunSettlesDoorOrActuator(t *testing.T) {
	t.Parallel()
	door := func(r *Report) float64 {
		for _, c := range r.Verdict.Chances {
			if c.Fault == DoorMechanism {
				return c.Probability
			}
		}
		return 0
	}
	for seed := range uint64(4) {
		coupled := examined(t, binds(seed, false), false)
		alone := Judge(coupled)
		gone := Judge(coupled, examined(t, binds(seed, true), true))
		stays := Judge(coupled, examined(t, binds(seed, false), true))
		if gone.Compared == nil || len(gone.Compared.Gone) == 0 || door(gone) <= door(alone) || gone.Verdict.Conclusion != DoorMechanism {
			t.Errorf("seed %d: a clean free run did not strengthen the door: %.2f -> %.2f", seed, door(alone), door(gone))
		}
		if gone.Verdict.For[0].Finding != FreeRun {
			t.Errorf("seed %d: the free run does not stand first in the evidence for the door: %+v", seed, gone.Verdict.For[0])
		}
		if stays.Compared == nil || len(stays.Compared.Stays) == 0 || door(stays) >= door(alone) {
			t.Errorf("seed %d: a free run with the same symptom did not weaken the door: %.2f -> %.2f", seed, door(alone), door(stays))
		}
	}
}

// The stops of a healthy door lie inside those of its actuator (common
// practice, no source): the less of the free travel is missing, the likelier
// they are why.
func TestShortOfFreeTravel(t *testing.T) {
	t.Parallel()
	free := examined(t, newDraft(9).sweeps(3), true)
	last := 0.0
	for _, c := range []struct {
		short float64
		want  []Fault
	}{{0.03, []Fault{NoFault}}, {0.10, []Fault{NoFault}}, {0.18, []Fault{NoFault, CannotTell}}, {0.35, []Fault{DoorMechanism}}, {0.6, []Fault{DoorMechanism}}} {
		d := newDraft(8)
		d.hi -= 4 * c.short
		r := Judge(examined(t, d.sweeps(3), false), free)
		door := 0.0
		for _, x := range r.Verdict.Chances {
			if x.Fault == DoorMechanism {
				door = x.Probability
			}
		}
		if !slices.Contains(c.want, r.Verdict.Conclusion) || door < last {
			t.Errorf("%.0f %% short: %s, door %.2f after %.2f", 100*c.short, r.Verdict.Conclusion, door, last)
		}
		last = door
		noted := slices.ContainsFunc(r.Verdict.Unknown, func(s string) bool { return strings.Contains(s, "further than coupled") })
		if noted != (c.short == 0.10) && c.short != 0.18 {
			t.Errorf("%.0f %% short: said to be unknown: %v", 100*c.short, noted)
		}
	}
}

// An uncoupled capture that reads more volts than the coupled one's sensor is
// supplied with is of another actuator.
func TestStrangersBySupply(t *testing.T) {
	t.Parallel()
	coupled := examined(t, newDraft(1).sweeps(3), false)
	coupled.Reference, coupled.shareKnown = 3.3, true
	free := examined(t, newDraft(2).sweeps(3), true)
	if why := longerThanFree([]*Capture{coupled, free}); !strings.Contains(why, "are they of one actuator") {
		t.Errorf("got %q", why)
	}
	if why := strangers([]*Capture{coupled}, []*Capture{examined(t, newDraft(2).sweeps(3), false)}); why == "" {
		t.Error("before and after of two supplies are taken for one actuator")
	}
	// A wire that touches the battery's makes both read above their own supply.
	free.Reference, free.shareKnown = 3.3, true
	if why := longerThanFree([]*Capture{coupled, free}); why != "" {
		t.Errorf("a fault in both: got %q", why)
	}
}

// A dead spot that stays and a slow zone that leaves are two faults: the repaired
// actuator would bind again. What is only another look of the dead spot is none.
func TestFreeRunTellsOfASecondFault(t *testing.T) {
	t.Parallel()
	worn := func(seed uint64, free, binding bool) *Capture {
		d := hole(seed, 1)
		d.speed = func(d *draft, dir float64) float64 {
			if binding && !free && d.x > 1.4 && d.x < 2.2 {
				return 0.4
			}
			return 1
		}
		d.run(0, 1)
		for range 4 {
			d.run(12, 8).run(0, 0.5).run(-12, 8).run(0, 0.5)
		}
		return examined(t, d, free)
	}
	for seed := range uint64(3) {
		r := Judge(worn(seed, false, true), worn(seed+10, true, true))
		v := &r.Verdict
		if v.Conclusion != FeedbackSensor || !strings.HasSuffix(v.Summary, "second fault, in the door: slow zone.") {
			t.Errorf("seed %d: %s %.2f: %s", seed, v.Conclusion, v.Probability, v.Summary)
		}
		if c := r.Compared; !slices.Contains(c.Left, SlowZone) || !strings.Contains(c.Text, "shows as well: dead spot") || !strings.Contains(c.Text, "no longer: slow zone") || v.For[0].Finding != FreeRun || !strings.Contains(v.For[0].Because, "two faults") {
			t.Errorf("seed %d: %+v, %+v", seed, c, v.For[0])
		}
		if r := Judge(worn(seed, false, false), worn(seed+10, true, false)); len(r.Compared.Left) > 0 || strings.Contains(r.Verdict.Summary, "second") {
			t.Errorf("seed %d, one fault: %s, %+v", seed, r.Verdict.Summary, r.Compared)
		}
	}
}
