package analyze

import "testing"

// A reading that goes against the drive for half of its travel clears nothing: the leads
// were changed over, or another recording follows, and the time is said.
func TestTravelAgainstTheDrive(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, x := range []struct {
			from, to   float64 // of the time, the drive the other way round
			first, say string
		}{
			{1. / 2, 1, splitFile().Name, "goes the other way under the same drive"},
		} {
			d := newDraft(seed).sweeps(3)
			for i, at := range d.time {
				if at > x.from*d.t && at <= x.to*d.t {
					d.drive[i] = -d.drive[i]
				}
			}
			c, v := look(t, d)
			if v.Conclusion == NoFault || len(v.Next) == 0 || v.Next[0].Name != x.first || !contains(v.Summary, x.say) {
				t.Errorf("seed %d: %q, %q; %s", seed, v.Summary, namesOf(v), say(c, v))
			}
		}
		if c, v := look(t, newDraft(seed).sweeps(3)); v.Conclusion != NoFault || c.contrary != "" {
			t.Errorf("seed %d, nothing changed over: %s", seed, say(c, v))
		}
	}
}
