package analyze

import "testing"

// Two places that lose the reading in each of three passes are places, although each of them
// makes but half of the losses.
func TestTwoOpenPlaces(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.x > 1.5 && d.x < 1.6 || d.x > 3.1 && d.x < 3.2 {
				return 2.6 + 0.8*d.rng.Float64()
			}
			return d.x
		}
		got, v := look(t, d.run(0, 0.5).run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5).run(12, 6).run(0, 0.5))
		n := 0
		for _, f := range got.Findings {
			if f.Kind == DeadSpot && f.Seen == 3 {
				n++
			}
		}
		if n != 2 || v.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}

// Six losses at places that differ are no two places.
func TestNoTwoOpenPlaces(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		lost := 0.0
		d.read = func(d *draft) float64 {
			if d.volts != 0 && d.x > d.lo && d.x < d.hi && d.rng.ExpFloat64()*1.6 < d.dt {
				lost = d.t + 0.12
			}
			if d.t < lost {
				return 2.6 + 0.8*d.rng.Float64()
			}
			return d.x
		}
		got, v := look(t, d.run(0, 0.5).run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5).run(12, 6).run(0, 0.5))
		if f := finding(got, DeadSpot); f != nil && f.Tie == TiedToPosition {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
