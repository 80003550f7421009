package analyze

import (
	"math"
	"testing"
)

// A reading that runs down to the ground at its own pace has read all of the track: the
// shaft that turns on beyond it is no loss, also where the held motor's current lifts the
// ground. One that holds short of the ground is.
func TestTrackReadToItsEnd(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		floor float64 // V, below which the reading stays
		held  float64 // V, by which a held motor lifts it
		lost  bool
	}{{"to the ground", 0, 0, false}, {"to a ground that is lifted", 0, 0.05, false}, {"short of it", 0.4, 0, true}, {"just short of it", 0.05, 0, true}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.lo, d.x = c.floor-0.4, c.floor-0.4
			d.read = func(d *draft) float64 {
				v := math.Max(d.x, c.floor)
				if d.volts < 0 && d.x == d.lo {
					v += c.held
				}
				return v
			}
			got, v := look(t, d.sweeps(3))
			if f := finding(got, EndLoss); (f != nil) != c.lost {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
