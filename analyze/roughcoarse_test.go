package analyze

import (
	"math"
	"testing"
)

// A coarse converter flickers by a whole step where a stop lies on the edge of one: that is
// no noise of the stand, beside which a wiper's bad contact could not be told.
func TestRoughContactCoarse(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt, d.quantum = 0.02, 0.04
		d.read = func(d *draft) float64 {
			if d.volts != 0 && d.x > d.lo && d.x < d.hi {
				return d.x - 0.12*math.Abs(d.rng.NormFloat64())
			}
			return d.x
		}
		got, v := look(t, d.sweeps(3))
		if formed(got, NoisyTrack, roughEverywhere) == nil {
			t.Errorf("seed %d, a bad contact: %s", seed, say(got, v))
		}

		// A motor's sparks are there while it is held as well.
		d = newDraft(seed)
		d.dt, d.quantum = 0.02, 0.04
		d.read = func(d *draft) float64 {
			if d.volts != 0 {
				return d.x + 0.05*d.rng.NormFloat64()
			}
			return d.x
		}
		got, v = look(t, d.sweeps(3))
		if formed(got, NoisyTrack, roughEverywhere) != nil || v.Conclusion == FeedbackSensor {
			t.Errorf("seed %d, a motor's sparks: %s", seed, say(got, v))
		}
	}
}

// Losses that come in part of the way only are weighed one by one; what scatters in seven
// tenths of it is a rough track.
func TestRoughAlong(t *testing.T) {
	t.Parallel()
	w := &work{ref: 5, noise: 0.01}
	s := scatterOf{moving: 0.1, cells: 10, rough: 6}
	if w.roughAlong(&s) {
		t.Error("six tenths of the way taken for all of it")
	}
	if s.rough = 7; !w.roughAlong(&s) {
		t.Error("seven tenths of the way are not enough")
	}
	w.quantum = 0.04
	s.standing = 0.04 / 1.15
	if !w.roughAlong(&s) {
		t.Error("a stand that flickers by one step hides a rough track")
	}
	if s.standing = 0.08; w.roughAlong(&s) {
		t.Error("as loud at a stand as on the way, and rough all the same")
	}
}
