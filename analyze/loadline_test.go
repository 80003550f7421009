package analyze

import (
	"math"
	"testing"
)

// Published: a motor at the given share of its stall torque, 80 K and 100 K
// hotter, and a supply of 9 V and 14.4 V without load (references: DC motor
// identities with copper +0.393 %/K and ferrite -0.2 %/K, worked by hand).
func TestRelativeSpeed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ drive, load, warmer, want float64 }{
		{1, 0, 80, 1.190476}, {1, .1, 80, 1.115772}, {1, .2, 80, 1.022392}, {1, .3, 80, .902332}, {1, .4, 80, .742252}, {1, .5, 80, .518141},
		{1, .1, 100, 1.147049}, {1, .5, 100, .323438},
		{.75, 0, 0, .75}, {1.2, 0, 0, 1.2}, {.5, .5, 0, 0}, {.1, .4, 0, 0},
	} {
		if got := relativeSpeed(c.drive, c.load, c.warmer); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("relativeSpeed(%v, %v, %v) = %v, expected %v", c.drive, c.load, c.warmer, got, c.want)
		}
	}
	// The band holds the motor's own speed, and widens with the difference.
	for _, drive := range []float64{0.6, 0.8, 1, 1.2} {
		b, free := speedBand(drive, false), speedBand(drive, true)
		if !b.Has(relativeSpeed(drive, usualLoad, 0)) || b.From > free.From || b.To < free.To {
			t.Errorf("drive %v: band %v, free %v", drive, b, free)
		}
	}
	t.Logf("at equal drive a good one lies in %v, off its door in %v", speedBand(1, false), speedBand(1, true))
}
