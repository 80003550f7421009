package analyze

import (
	"slices"
	"strings"
	"testing"
)

// Hunting leaves with the door only where something uncoupled could have hunted: a
// control that is sent to that place and rests. Stop to stop, or elsewhere, none could.
func TestHuntingNotCompared(t *testing.T) {
	t.Parallel()
	seek := func(d *draft, at float64) *draft {
		dir := 12.0
		if at < d.x {
			dir = -12
		}
		for (at-d.x)*dir > 0 {
			d.run(dir, d.dt)
		}
		return d.run(0, 1)
	}
	coupled := func() *draft {
		d := newDraft(1)
		d.run(12, 6).run(0, 1).run(-12, 6).run(0, 1)
		seek(d, 2.5)
		for range 12 {
			d.run(-12, 0.3).run(12, 0.3)
		}
		return seek(d, 4).run(0, 1).run(-12, 6)
	}
	for _, c := range []struct {
		name string
		to   []float64
		gone bool
	}{
		{"sent there", []float64{2.5, 4, 2.5, 1, 2.5, 3.5}, true},
		{"sent elsewhere", []float64{3.5, 4, 3.6, 4}, false},
		{"from stop to stop", nil, false},
	} {
		free := newDraft(2).sweeps(2)
		for _, x := range c.to {
			seek(free, x)
		}
		r := Judge(examineWith(t, coupled(), nil, false), examineWith(t, free, nil, true))
		if finding(r.Captures[0], Hunting) == nil {
			t.Fatal("no hunting drawn")
		}
		gone := r.Compared != nil && slices.Contains(r.Compared.Gone, Hunting)
		said := slices.ContainsFunc(r.Verdict.Unknown, func(s string) bool { return strings.Contains(s, "hunts without the door") })
		if gone != c.gone || said == c.gone {
			t.Errorf("%s: gone %v, said %v: %s", c.name, gone, said, r.Verdict.Summary)
		}
	}
}

// What goes to and fro at the end of a short way is no hunting at an end where the
// uncoupled actuator shows that the swings take a good part of its travel.
func TestWideHuntingByUncoupledTravel(t *testing.T) {
	t.Parallel()
	coupled := func() *draft {
		d := newDraft(1)
		d.x = 4.5
		d.rate = 0.27
		d.run(0, 1).run(-12, 1).run(0, 0.3).run(12, 2).run(0, 0.2).run(12, 1).run(0, 0.4)
		for range 3 {
			d.run(-12, 2).run(0, 0.3).run(12, 2.05).run(0, 0.2)
		}
		return d.run(0, 20)
	}
	free := newDraft(2)
	free.lo, free.x, free.rate = 2.6, 2.6, 0.27
	alone := Judge(examineWith(t, coupled(), nil, false))
	both := Judge(examineWith(t, coupled(), nil, false), examineWith(t, free.sweeps(2), nil, true))
	if finding(alone.Captures[0], Hunting) == nil {
		t.Fatal("no hunting drawn")
	}
	if both.Verdict.Conclusion == FeedbackSensor || both.Compared == nil || !strings.Contains(both.Compared.Text, "wide") {
		t.Errorf("%s; alone %s", both.Verdict.Summary, alone.Verdict.Summary)
	}
}

// A control that tries one stop again is told from an obstacle by where the uncoupled actuator
// ends: at the same stop, nothing stands in its way.
func TestHuntingAtTheStopItHasUncoupled(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.hi = 4
		d.run(0, 1).run(12, 7).run(0, 1.2)
		for range 4 {
			d.run(-12, 0.3).run(0, 0.2).run(12, 1.3).run(0, 1.2)
		}
		d.run(-12, 7).run(0, 1)
		coupled := examineWith(t, d, nil, false)
		for _, c := range []struct {
			end  float64 // V, of the uncoupled travel
			door bool
		}{{4, false}, {4.5, true}} {
			free := newDraft(seed + 9)
			free.hi = c.end
			r := Judge(coupled, examineWith(t, free.sweeps(2), nil, true))
			if finding(r.Captures[0], Hunting) == nil {
				t.Fatal("no hunting drawn")
			}
			if (r.Verdict.Conclusion == DoorMechanism) != c.door {
				t.Errorf("seed %d, uncoupled to %.1f V: %s", seed, c.end, r.Verdict.Summary)
			}
			if said := r.Compared != nil && strings.Contains(r.Compared.Text, "about which it hunts"); said == c.door {
				t.Errorf("seed %d, uncoupled to %.1f V: %+v", seed, c.end, r.Compared)
			}
		}
		if alone := Judge(coupled); alone.Verdict.Conclusion == NoFault {
			t.Errorf("seed %d: cleared without the free run: %s", seed, alone.Verdict.Summary)
		}
	}
}
