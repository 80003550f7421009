package analyze

import "testing"

// Where the same drive moves nothing with the door and everything without it, the door
// holds the shaft; unless coupled it only pressed against the stop at which it stood, or
// had far fewer volts.
func TestHeldByDoor(t *testing.T) {
	t.Parallel()
	stuck := func(volts ...float64) func(seed uint64) *draft {
		return func(seed uint64) *draft {
			d := newDraft(seed)
			d.x = 2
			d.block = func(*draft, float64) bool { return true }
			d.run(0, 1)
			for range 3 {
				for _, v := range volts {
					d.run(v, 3).run(0, 1)
				}
			}
			return d
		}
	}
	atStop := func(seed uint64) *draft {
		return newDraft(seed).run(0, 1).run(-12, 3).run(0, 1).run(-12, 3).run(0, 1)
	}
	free := func(seed uint64) *draft { return newDraft(seed).sweeps(3) }
	for _, c := range []struct {
		name          string
		coupled, free func(seed uint64) *draft
		door          bool
	}{
		{"held", stuck(12, -12), free, true},
		{"driven one way into the door", stuck(12), free, true},
		{"pressed at its stop", atStop, free, false},
		{"with fewer volts", stuck(6, -6), free, false},
		{"uncoupled neither", stuck(12, -12), stuck(12, -12), false},
	} {
		for seed := range uint64(3) {
			r := Judge(examined(t, c.coupled(seed), false), examined(t, c.free(seed+10), true))
			if got := r.Verdict.Conclusion == DoorMechanism; got != c.door {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(r.Captures[0], r.Verdict))
			}
		}
	}
}

// A shaft that its door holds gives way a little under each drive and springs back; one
// that is tapped goes no further either, nor does one that runs.
func TestOnlyYields(t *testing.T) {
	t.Parallel()
	// Gears and lever give way a little, and spring back in the rest.
	yields := func(seed uint64) *draft {
		d := newDraft(seed)
		d.noise, d.x = 0.002, 2
		given, pressed := 0.0, 0.0
		d.block = func(_ *draft, dir float64) bool {
			pressed = 0.06 * dir
			return true
		}
		d.read = func(d *draft) float64 {
			given += (pressed - given) * d.dt // a grease of one second
			pressed = 0
			return d.x + given
		}
		d.run(0, 1)
		return d.run(12, 3).run(0, 2).run(-12, 3).run(0, 2)
	}
	// Tapped so shortly that it came no further.
	tapped := func(seed uint64) *draft {
		d := newDraft(seed)
		d.noise, d.x = 0.002, 2
		d.run(0, 1)
		for range 3 {
			d.run(12, 0.03).run(0, 1).run(-12, 0.03).run(0, 1)
		}
		return d
	}
	ends := func(seed uint64) *draft { return newDraft(seed).sweeps(2) }
	for _, c := range []struct {
		name    string
		coupled func(seed uint64) *draft
		yields  bool
	}{
		{"held, and gives way a little", yields, true},
		{"tapped", tapped, false},
		{"runs", ends, false},
	} {
		for seed := range uint64(3) {
			coupled, free := examined(t, c.coupled(seed), false), examined(t, newDraft(seed+10).sweeps(3), true)
			if got := coupled.onlyYields(free) != nil; got != c.yields {
				t.Errorf("%s, seed %d: %v", c.name, seed, got)
			}
		}
	}
}
