package analyze

import (
	"math"
	"testing"
)

// A shaft creeps in short pulses over a stretch where single readings stray, mostly to one
// side: in each pass there it is the track's, all over the travel it is interference. (Drawn.)
func TestStraysWhileItCreeps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		from, to float64 // V, where they come
		often    float64
		worn     bool
	}{
		{"at one stretch", 2.6, 3.1, 0.06, true},
		{"everywhere", 0, 5, 0.02, false},
	} {
		d := newDraft(7)
		d.dt, d.noise = 0.02, 0.003
		d.read = func(d *draft) float64 {
			if d.x == d.lo || d.x == d.hi || d.x < c.from || d.x > c.to || d.rng.Float64() > c.often {
				return d.x
			}
			off := 0.15 + 0.9*d.rng.Float64()
			if d.rng.Float64() < 0.25 {
				off = -0.3 * off
			}
			return d.x - off
		}
		d.run(0, 2)
		for k := range 4 {
			dir := 1 - 2*float64(k%2)
			for range 26 {
				d.run(dir*12, 0.2).run(0, 0.36)
			}
			d.run(0, 2)
		}
		got, v := look(t, d)
		if (v.Conclusion == FeedbackSensor) != c.worn {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
		if w := math.Abs(float64(len(got.Moves) - 104)); w > 4 {
			t.Errorf("%s: %d moves", c.name, len(got.Moves))
		}
	}
}
