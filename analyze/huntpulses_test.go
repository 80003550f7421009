package analyze

import "testing"

// A control that comes to its targets by short pulses to and fro, after which it rests,
// does what it is made for; where the pulses move nothing, or go on and on, it does not.
func TestPulsesFollowed(t *testing.T) {
	t.Parallel()
	pulses := func(d *draft, n int) *draft {
		for range n {
			d.run(-12, 0.06).run(0, 0.1).run(12, 0.06).run(0, 0.1)
		}
		return d
	}
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.sweeps(1).run(12, 2)
		pulses(d, 5).run(0, 4).run(-12, 1)
		pulses(d, 5).run(0, 4)
		c, v := look(t, d)
		f := finding(c, Hunting)
		if f == nil || !f.has(pulsesFollowed) || v.Conclusion != NoFault {
			t.Errorf("seed %d, followed: %s", seed, say(c, v))
		}

		d = newDraft(seed)
		d.sweeps(1).run(12, 2)
		d.block = func(*draft, float64) bool { return true }
		pulses(d, 5).run(0, 4)
		c, v = look(t, d)
		if f := finding(c, Hunting); f != nil && f.has(pulsesFollowed) {
			t.Errorf("seed %d, nothing moves: %s", seed, say(c, v))
		}

		d = newDraft(seed)
		d.sweeps(1).run(12, 2)
		pulses(d, 5) // and does not rest
		c, v = look(t, d)
		if f := finding(c, Hunting); f != nil && f.has(pulsesFollowed) {
			t.Errorf("seed %d, no rest: %s", seed, say(c, v))
		}
	}
}
