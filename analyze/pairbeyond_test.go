package analyze

import "testing"

// An uncoupled run over a part of the way tells of a stop as well where it goes far past
// it; and so it does of an obstacle that fell in while the shaft lay beyond, once the
// shaft has stood before it twice. Where it goes past by what a door's own stops leave
// the door is not blamed.
func TestFreeRunFarBeyondTheStop(t *testing.T) {
	t.Parallel()
	// oneWay drives up from a level, against the door's stop or until it is switched off.
	oneWay := func(seed uint64, from, stop, s float64) *draft {
		d := newDraft(seed)
		d.x, d.hi = from, stop
		return d.run(0, 0.5).run(12, s)
	}
	// fellIn begins below the obstacle and comes down on it from above.
	fellIn := func(seed uint64) *draft {
		d := newDraft(seed)
		d.x = 2.2
		d.run(0, 0.5).run(12, 2).run(0, 1)
		d.lo = 3
		for range 2 {
			d.run(-12, 2.5).run(0, 1)
		}
		d.run(12, 0.5)
		return d
	}
	whole := func(seed uint64) *draft {
		d := newDraft(seed)
		d.x = 3.8
		return d.sweeps(1)
	}
	for _, c := range []struct {
		name          string
		coupled, free func(seed uint64) *draft
		door          bool
	}{
		{"a part of the way", func(s uint64) *draft { return oneWay(s, 0.5, 3, 5) }, func(s uint64) *draft { return oneWay(s, 1.8, 4.5, 2.6) }, true},
		{"a part, as far as a door's own stop leaves", func(s uint64) *draft { return oneWay(s, 0.5, 3.6, 5) }, func(s uint64) *draft { return oneWay(s, 1.8, 4.5, 2.6) }, false},
		{"it fell in", fellIn, whole, true},
	} {
		for seed := range uint64(3) {
			r := Judge(examined(t, c.coupled(seed), false), examined(t, c.free(seed), true))
			if got := r.Verdict.Conclusion == DoorMechanism; got != c.door {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(r.Captures[0], r.Verdict))
			}
		}
	}
}
