package analyze

import (
	"math"
	"testing"
)

// What hunts goes to and fro about one place. Somebody at a switch drives for any time one
// way and the other, at once, and the shaft is now here and now there: no control hunts.
func TestToAndFroWithoutAPlace(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		turns []float64 // V
		hunts bool
	}{
		{"now here and now there", []float64{2.05, 2.4, 2.1, 2.46, 2.27, 2.67, 2.51, 2.76, 2.29, 2.47, 2.15, 2.61, 2.42, 2.71}, false},
		{"about one place", []float64{2, 2.5, 2, 2.5, 2, 2.5, 2, 2.5, 2, 2.5, 2, 2.5, 2, 2.5}, true},
		{"about one place, and then another", []float64{2, 2.4, 2, 2.4, 2, 2.4, 2, 2.4, 3, 2.6, 3, 2.6, 3, 2.6, 3, 2.6}, true},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.x, d.rate = 2.25, 0.4
			d.run(0, 1)
			for _, to := range c.turns {
				d.run(math.Copysign(12, to-d.x), math.Abs(to-d.x)/d.rate).run(0, 0.2)
			}
			d.run(0, 2)
			got, v := look(t, d)
			if f := finding(got, Hunting); (f != nil && f.Strength > 0.5) != c.hunts {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
