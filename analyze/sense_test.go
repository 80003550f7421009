package analyze

import (
	"math"
	"testing"
)

// A clip that wobbles while the shaft runs back: the reading falls to nothing at once and
// comes back slowly through an input capacitor, again and again. The ways down are leaps,
// the ways back are not, and their sum is no motion: the sense is that of the sweeps.
func TestSenseBesideWobble(t *testing.T) {
	d := newDraft(1)
	d.read = func(d *draft) float64 {
		if d.t < 8 || d.t > 13 {
			return d.x
		}
		return d.x * math.Min(1, math.Mod(d.t, 0.8)/0.7)
	}
	d.sweeps(1)
	c, err := Examine(d.trace(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if c.Sense != 1 {
		t.Errorf("sense %d, want 1", c.Sense)
	}
	for _, f := range c.Findings {
		if f.Kind == BentTrack {
			t.Errorf("%s", f.Title)
		}
	}
}
