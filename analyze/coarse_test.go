package analyze

import "testing"

// A converter of so few steps that one is a twentieth of the travel makes a staircase of an
// even way; a control that slows down before its target makes its last steps longer. Nothing
// stands there. What stands at one place for seconds does, in steps as well. (Drawn.)
func TestFewStepsAreNoStands(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		jam  bool
	}{{"slows down before its target", false}, {"an object in the way", true}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.quantum, d.noise, d.rate = 5.0/64, 0.002, 0.23
			d.lo, d.hi, d.x = 0.8, 2.2, 0.8
			d.run(0, 1).run(12, 7).run(0, 1).run(-12, 7).run(0, 1)
			for range 3 {
				d.run(12, 3)
				if c.jam {
					d.block = func(_ *draft, dir float64) bool { return dir > 0 }
					d.run(12, 2)
					d.block = nil
				} else {
					d.speed = func(*draft, float64) float64 { return 0.5 }
					d.run(12, 1.3)
					d.speed = nil
				}
				d.run(0, 1).run(-12, 7).run(0, 1)
			}
			got, v := look(t, d)
			if showsKind(got, Jam) != c.jam || !c.jam && v.Conclusion == DoorMechanism {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
