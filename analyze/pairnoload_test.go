package analyze

import (
	"math"
	"testing"
)

// A shaft that runs with its door as it does without it moves none, unless the door ends
// its travel or costs it what any pivot does.
func TestShaftThatMovesNoDoor(t *testing.T) {
	t.Parallel()
	volts := func(v, slower float64) func(uint64) *draft { return atVolts(v, slower) }
	biased := func(s uint64) *draft { // a spring: what it costs one way it gives the other
		d := newDraft(s)
		d.speed = func(_ *draft, dir float64) float64 { return 1 - 0.1*dir }
		return unhurried(d, 3)
	}
	short := func(s uint64) *draft {
		d := newDraft(s)
		d.hi = 4.3
		return d.sweeps(3)
	}
	even := func(s uint64) *draft { return newDraft(s).sweeps(3) }
	for _, c := range []struct {
		name          string
		coupled, free func(uint64) *draft
		gone          bool
	}{
		{"as fast", even, even, true},
		{"as fast for its volts", volts(11, 1), volts(13, 1), true},
		{"a spring and nothing else", biased, even, true},
		{"a twelfth slower", volts(12, 12./11), volts(12, 1), false},
		{"as fast, for more volts", volts(13, 1.1), volts(12, 1), false},
		{"stopped earlier", short, even, false},
		{"a worn place as well", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if math.Abs(d.x-2) < 0.15 {
					return 0
				}
				return d.x
			}
			return d.sweeps(3)
		}, even, false},
	} {
		for seed := range uint64(2) {
			r := Judge(examined(t, c.coupled(seed), false), examined(t, c.free(seed+10), true))
			got := unloadedOnDoor(r.Captures)
			if like := got.likeDoor(); (like > 0.5) != c.gone || like > 0.1 != c.gone {
				t.Errorf("%s, seed %d: drag %.3f, like a door that is gone %.3f; %s", c.name, seed, got.drag, like, say(r.Captures[0], r.Verdict))
			}
			if said := len(r.Verdict.Against) > 0 && contains(r.Verdict.Against[0].Text, "nothing shows that it moves a door"); said != c.gone {
				t.Errorf("%s, seed %d: said %v", c.name, seed, said)
			}
			if door := r.Verdict.ByFault()[DoorMechanism]; c.gone && !(door > 0.15) {
				t.Errorf("%s, seed %d: door %.2f", c.name, seed, door)
			}
		}
	}
}
