package analyze

import "testing"

// Contact noise comes in moments and only while the wiper slides; what a motor's
// brushes send into the wires is even, and there as long as it runs.
func TestNoiseWhileItMovesDrawn(t *testing.T) {
	t.Parallel()
	slides := func(d *draft) bool { return d.volts != 0 && d.x > d.lo && d.x < d.hi }
	checkDrawn(t, []drawnCase{
		{"a wiper that lets go for single rows, all along", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if slides(d) && d.rng.Float64() < 0.04 {
					return d.x - 0.25*d.rng.ExpFloat64()
				}
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, NoisyTrack},
		{"the motor's sparks in the wiper's wire", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if slides(d) {
					return d.x + 0.07*d.rng.NormFloat64()
				}
				return d.x
			}
			return d.sweeps(3)
		}, NoFault, ""},
		// Sparks taken out and bridged must not leave a shaft that steps.
		{"sparks of the brushes in every fourth row", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise, d.rate = 0.01, 0.001, 0.6
			d.read = func(d *draft) float64 {
				if slides(d) && d.rng.Float64() < 0.25 {
					return d.x + 0.02*d.rng.NormFloat64()
				}
				return d.x
			}
			return d.sweeps(3)
		}, NoFault, ""},
	}, "")
}

// A wiper that lifts off at two places of the way, again and again in each pass, to an open
// wire's level: in those places the reading is off to either side, of the track and of that
// level, and nowhere else at all. They are places, and no contact that is bad all along.
// (Drawn.)
func TestBadPlacesAreNotRough(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		d := newDraft(seed).slower(0.02)
		d.rate = 0.2
		d.read = func(d *draft) float64 {
			if d.x > 2 && d.x < 2.4 || d.x > 3.3 && d.x < 3.45 { // each row a mean over many lifts
				return d.x + (4.97-d.x)*max(0, min(1, 1.5*d.rng.Float64()-0.2))
			}
			return d.x
		}
		got, v := look(t, d.sweeps(3))
		if formed(got, NoisyTrack, roughEverywhere) != nil || v.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
