package analyze

import (
	"math"
	"testing"
)

// TestUnevenPlace draws a shaft that goes fast and slow by turns at one place of its way,
// never back, which is no sure track, and a track that is rough there by as much as no
// shaft can make.
func TestUnevenPlace(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		sticks := newDraft(seed)
		sticks.noise = 0.0005
		sticks.speed = func(d *draft, _ float64) float64 {
			if d.x > 2 && d.x < 2.3 {
				return 1 + 0.8*math.Sin(2*math.Pi*d.t/0.06)
			}
			return 1
		}
		rough := newDraft(seed)
		rough.noise = 0.0005
		rough.read = func(d *draft) float64 {
			if d.x > 2 && d.x < 2.3 {
				return d.x + 0.02*d.rng.NormFloat64()
			}
			return d.x
		}
		if r := judgedDraft(t, sticks.sweeps(3)); r.Verdict.Conclusion == FeedbackSensor {
			t.Errorf("seed %d: a shaft that sticks and slips reads as %s", seed, r.Verdict.Summary)
		}
		if r := judgedDraft(t, rough.sweeps(3)); r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: a rough track reads as %s", seed, r.Verdict.Summary)
		}
	}
}
