package analyze

import "testing"

// A short way, a stand, and tries that get no further, at a place that was passed before
// and that the shaft leaves the other way: something blocks it, though the way was too
// short to count as an arrival. A drive that later goes on over it, or a motor that does
// not leave the place the other way either, is none.
func TestBlockedInVain(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		later  bool // something else later: no jam that stays
		either bool // the motor is stuck both ways
		want   bool
	}{
		"blocked":           {want: true},
		"passed again":      {later: true},
		"stuck either way":  {either: true},
		"passed, and stuck": {later: true, either: true},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.noise, d.quantum, d.rate = 0.02, 0.078, 0.28
			d.x = 2
			d.run(0, 0.5).run(12, 10).run(0, 0.5).run(-12, 16).run(0, 0.5).run(12, 7.9).run(0, 3)
			stuck := true
			d.block = func(d *draft, dir float64) bool { return stuck && (dir > 0 && d.x > 2.92 || c.either && d.x > 2.9) }
			d.run(12, 2.2)
			for range 4 {
				d.run(0, 2).run(12, 1.2)
			}
			if c.later {
				stuck = false
				d.run(0, 2).run(12, 3)
			}
			d.run(0, 2).run(-12, 4).run(0, 1)
			got, v := look(t, d)
			f := finding(got, Jam)
			ok := f != nil && f.Direction == Up && v.Conclusion == DoorMechanism
			if ok != c.want {
				t.Errorf("%s, seed %d: %s", name, seed, say(got, v))
			}
		}
	}
}
