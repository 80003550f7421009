package analyze

import "testing"

// A leap against the drive, at a stand, after which nothing is driven: no shaft does it,
// and no obstacle stands where the reading went. One that comes back is over, and a reading
// that falls to nothing lost its clip. (Drawn.)
func TestLeapLate(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		to, over float64 // V, and for how many s
		want     bool
	}{
		{"to the middle, for good", 2.2, 9, true},
		{"to the middle, for a moment", 2.2, 0.2, false},
		{"to nothing", 0, 9, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.run(0, 1).run(12, 7).run(0, 1).run(-12, 6.5)
			at := d.t
			d.read = func(d *draft) float64 {
				if d.t-at < c.over {
					return c.to
				}
				return d.x
			}
			if c.to == 0 {
				d.run(0, 2)
			} else {
				d.run(-12, 0.6).run(0, 1.5)
			}
			got, v := look(t, d)
			f := formed(got, LastingLeap, leapLate)
			if (f != nil) != c.want || v.Conclusion == DoorMechanism || v.Conclusion == Motor {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
