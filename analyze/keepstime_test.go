package analyze

import (
	"testing"
)

// overEdge drives to and fro over a level until the reading has got past it each time, as a
// control does.
func (d *draft) overEdge(at float64, n int, wait func() float64) *draft {
	d.near(at+0.6).run(0, 1)
	for range n {
		for d.feed[len(d.feed)-1] > at {
			d.run(-7, d.dt)
		}
		d.run(0, wait())
		for d.feed[len(d.feed)-1] < at {
			d.run(7, d.dt)
		}
		d.run(0, wait())
	}
	return d.run(12, 1.5).run(0, 2)
}

// A control that hunts over an end of the track that holds the reading and lets it leap makes
// the leaps come as long after each reversal: that is a place, although the drive is off
// nearly at once and the shaft seems to stand between.
func TestLeapsKeepTime(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed).holding(0.945, 1.28, both)
		d.dt, d.hi, d.lo, d.noise, d.quantum, d.rate = 0.0134, 4, 0.8, 0.003, 0.0039, 1.3
		got, v := look(t, d.overEdge(1.15, 14, func() float64 { return 0.14 }))
		if f := finding(got, DeadSpot); f == nil || f.Strength < 0.9 || v.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}

// A contact that lets go and holds by chance, of which the control makes the same, is none.
func TestLeapsOfChance(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt, d.hi = 0.012, 4
		open := false
		d.read = func(d *draft) float64 {
			if d.rng.ExpFloat64()*0.4 < d.dt {
				open = !open
			}
			if open {
				return d.x - 0.35
			}
			return d.x
		}
		got, v := look(t, d.overEdge(1.15, 14, func() float64 { return 0.14 }))
		if v.Conclusion == FeedbackSensor {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
