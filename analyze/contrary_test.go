package analyze

import "testing"

// A reading that goes against the drive for half of its travel clears nothing: the
// leads were changed over, or the columns are not of one actuator.
func TestTravelAgainstTheDrive(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed).sweeps(3)
		for i, at := range d.time {
			if at > d.t/2 {
				d.drive[i] = -d.drive[i]
			}
		}
		c, v := look(t, d)
		if v.Conclusion == NoFault || len(v.Next) == 0 || v.Next[0].Name != checkClips().Name || !contains(v.Summary, "follows one sense of the drive") {
			t.Errorf("seed %d: %q, %q; %s", seed, v.Summary, namesOf(v), say(c, v))
		}
		if c, v = look(t, newDraft(seed).sweeps(3)); v.Conclusion != NoFault || c.contrary != "" {
			t.Errorf("seed %d, nothing changed over: %s", seed, say(c, v))
		}
	}
}
