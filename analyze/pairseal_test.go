package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// creepingUp slows the shaft over the last of the way up, and over that of the way down,
// each given in V; next to the stop it keeps the given share of its speed.
func creepingUp(d *draft, up, down, least float64) *draft {
	d.speed = func(d *draft, dir float64) float64 {
		way, left := up, d.hi-d.x
		if dir < 0 {
			way, left = down, d.x-d.lo
		}
		if dir == 0 || way == 0 || left > way {
			return 1
		}
		return least + (1-least)*math.Max(0, left)/way
	}
	return d
}

// A door that is pressed into one of its stops is known by the way the actuator goes
// without it.
func TestPressedAtStop(t *testing.T) {
	t.Parallel()
	free := func(s uint64) *draft { d := newDraft(s); d.lo = 0.35; d.hi = 4.65; return d.sweeps(2) }
	door := func(up, down, least float64) func(s uint64) *draft {
		return func(s uint64) *draft { return creepingUp(newDraft(s), up, down, least).sweeps(2) }
	}
	for _, c := range []struct {
		name          string
		coupled, free func(seed uint64) *draft
		says          bool
	}{
		{"a seal pressed at one stop", door(0.32, 0, 0.1), free, true},
		{"both stops hard", door(0, 0, 1), free, false},
		{"a sound seal at one stop", door(0.32, 0, 0.75), free, false},
		{"soft seals at both stops", door(0.2, 0.2, 0.15), free, false},
		{"slow there uncoupled as well", door(0.32, 0, 0.1), door(0.32, 0, 0.1), false},
	} {
		for seed := range uint64(2) {
			coupled, uncoupled := examined(t, c.coupled(seed), false), examined(t, c.free(seed+10), true)
			// What the capture tells by itself is left out here.
			coupled.Findings = nil
			r := Judge(coupled, uncoupled)
			said := slices.ContainsFunc(append(slices.Clone(r.Verdict.For), r.Verdict.Against...), func(e Evidence) bool {
				return e.Finding == FreeRun && strings.Contains(e.Text, "the last of the way up")
			})
			if said != c.says || (r.Verdict.Conclusion == DoorMechanism) != c.says {
				t.Errorf("%s, seed %d: said %v; %s", c.name, seed, said, say(r.Captures[0], r.Verdict))
			}
		}
	}
}

// What is called the door's fault is not called usual beside it.
func TestPressedFarShortIsNotUsual(t *testing.T) {
	t.Parallel()
	free := newDraft(11)
	free.lo, free.hi = 0.35, 4.65
	door := newDraft(1)
	door.hi = 3.9
	r := Judge(examined(t, creepingUp(door, 0.6, 0, 0.2).sweeps(2), false), examined(t, free.sweeps(2), true))
	if r.Verdict.Conclusion != DoorMechanism {
		t.Fatal(say(r.Captures[0], r.Verdict))
	}
	if slices.ContainsFunc(r.Verdict.Unknown, func(s string) bool { return strings.Contains(s, "usual for a door's own stops") }) {
		t.Errorf("a fault of the door is called usual: %q", r.Verdict.Unknown)
	}
}

// A door with foam at one of its stops only is as slow over the last of its way as one
// with a seal that swelled a little: while it gets to where the shaft runs uncoupled,
// nothing tells them apart.
func TestFoamAtOneStopOnly(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		beyond float64 // V, that the shaft goes on uncoupled
		door   bool
	}{
		{"pressed flat", 0.04, false},
		{"stands short", 0.2, true},
	} {
		free := newDraft(11)
		free.lo, free.hi = 0.35, 4.5+c.beyond
		coupled := examined(t, creepingUp(newDraft(1), 0.22, 0, 0.05).sweeps(2), false)
		coupled.Findings = nil // what it tells by itself is left out here
		r := Judge(coupled, examined(t, free.sweeps(2), true))
		if got := r.Verdict.Conclusion == DoorMechanism; got != c.door {
			t.Errorf("%s: %s", c.name, say(r.Captures[0], r.Verdict))
		}
	}
}
