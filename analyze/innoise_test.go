package analyze

import "testing"

// Noise that comes for some seconds belongs to no place: it is there at rest as well.
func TestNoiseThatComesForAWhile(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		d := newDraft(seed)
		for i := range 4 {
			d.noise = 0.004
			d.run(0, 1).run(12, 4.8)
			if i == 1 || i == 2 {
				d.noise = 0.03
			}
			d.run(12, 1.5).run(0, 0.6)
			d.noise = 0.004
			d.run(0, 1).run(-12, 6.3)
		}
		c, v := look(t, d)
		if c.shows(DeadSpot) || v.Conclusion != NoFault {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}
