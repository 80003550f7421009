package analyze

import "testing"

// A stop far inside the sensor's range at one side only, into which it is driven again and
// again, from a step back or from where it rests, is a jam as likely as the build: neither
// is stated. Stepping back from it and into it again time after time is what is done to get
// past. From end to end, or where both ends lie inside, nothing is wanted beyond it.
func TestDrivenOftenerIntoTheEarlyStop(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name       string
		lo, hi     float64 // V, the other stop and this one
		back, anew int     // drives into the stop from a step back, and from where it rests
		sweeps     int     // from end to end
		want       Fault
		signed     bool
	}{
		{"from a step back, twice", 0.5, 2.4, 2, 0, 0, DoorMechanism, false},
		{"from a step back, once", 0.5, 2.4, 1, 1, 0, CannotTell, false},
		{"from a step back, its direction logged alone", 0.5, 2.4, 2, 0, 0, DoorMechanism, true},
		{"from where it rests", 0.5, 2.4, 0, 2, 0, CannotTell, false},
		{"from end to end", 0.5, 2.4, 0, 0, 3, NoFault, false},
		{"once more at the end", 0.5, 2.4, 1, 0, 2, NoFault, false},
		{"from a step back, twice, usual on 3.3 V", 0.5, 2.8, 2, 0, 0, DoorMechanism, false},
		{"from a step back, once, usual on 3.3 V", 0.5, 2.8, 1, 1, 0, NoFault, false},
		{"the other end as far inside", 1.9, 2.8, 2, 0, 0, NoFault, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.lo, d.hi, d.x, d.signOnly = c.lo, c.hi, c.lo+0.1, c.signed
			d.run(0, 0.5).run(12, 4)
			for range c.back {
				d.run(0, 0.4).run(-12, 0.8).run(0, 0.4).run(12, 2)
			}
			for range c.anew {
				d.run(0, 0.6).run(12, 0.8)
			}
			d.run(0, 0.5).run(-12, 4).run(0, 0.5)
			for range c.sweeps {
				d.run(12, 4).run(0, 0.5).run(-12, 4).run(0, 0.5)
			}
			got, v := look(t, d)
			f := finding(got, Jam)
			asked := f != nil && f.has(oftenerThere)
			if asked != (c.want != NoFault) || v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %+v; %s", c.name, seed, f, say(got, v))
			}
		}
	}
}
