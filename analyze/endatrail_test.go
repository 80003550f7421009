package analyze

import (
	"math"
	"testing"
)

// A reading that runs down to the ground at its own pace has read all of the track: the
// shaft that turns on beyond it is no loss. One that holds short of the ground is.
func TestTrackReadToItsEnd(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		floor float64 // V, below which the reading stays
		lost  bool
	}{{"to the ground", 0, false}, {"short of it", 0.4, true}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.lo, d.x = c.floor-0.4, c.floor-0.4
			d.read = func(d *draft) float64 { return math.Max(d.x, c.floor) }
			got, v := look(t, d.sweeps(3))
			if f := finding(got, EndLoss); (f != nil) != c.lost {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
