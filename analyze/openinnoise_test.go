package analyze

import "testing"

// What a motor sends into the wires is even noise about where the shaft is; a reading that
// leaps over volts at one place, time and again, is not of it. (Drawn.)
func TestOpenTrackInEvenNoise(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		crack float64 // V, of the reading on either side of it
		want  Fault
	}{
		{"cracked across", 3.1, FeedbackSensor},
		{"whole", 0, NoFault},
	} {
		for seed := range uint64(3) {
			d, k, noise := newDraft(seed), 0, 0.0
			d.read = func(d *draft) float64 {
				v := d.x
				if c.crack > 0 { // squeezed to the ends beside it
					v = d.lo + 0.25*(d.x-d.lo)
					if d.x > 2 {
						v += c.crack
					}
				}
				if k++; k%3 == 0 { // a filter makes it last
					noise = 0.055 * d.rng.NormFloat64()
				}
				if d.volts != 0 && d.x > d.lo && d.x < d.hi {
					v += noise
				}
				return v
			}
			got, v := look(t, d.sweeps(3))
			if f := formed(got, NoisyTrack, roughEverywhere); v.Conclusion != c.want || f == nil || !f.has(noFurtherOff) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
