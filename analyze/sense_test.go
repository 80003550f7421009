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

// A drive that ends in the row in which the reading comes back from a hole of the track:
// the ramp of seconds before it tells the sense, not the rows on either side of that leap.
func TestSenseOfALeapInTheLastRow(t *testing.T) {
	for _, sense := range []int{1, -1} {
		d := newDraft(1)
		d.lo, d.x = 0.2, 0.35
		d.read = func(d *draft) float64 {
			if d.x > 3.15 && d.x < 3.415 {
				return 0
			}
			return d.x
		}
		d.run(0, 0.6)
		for d.x < 3.415 {
			d.run(12, d.dt)
		}
		d.run(0, 10)
		if sense < 0 {
			for i := range d.drive {
				d.drive[i] = -d.drive[i]
			}
		}
		if c := examined(t, d, false); c.Sense != sense {
			t.Errorf("sense %d, want %d", c.Sense, sense)
		}
	}
}
