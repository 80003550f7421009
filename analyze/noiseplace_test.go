package analyze

import (
	"math"
	"testing"
)

// Readings that stray to either side while the shaft moves, some of them twice in a row:
// where they fall thick by chance is no place of the track, and a worn place under the same
// strays still is one. (Drawn.)
func TestStraysThatFallThick(t *testing.T) {
	t.Parallel()
	thick := [][2]float64{{3.71, 2}, {3.78, 2}, {8.62, 2}, {8.55, 2}, {13.72, 2}, {13.79, 2}}
	for _, c := range []struct {
		name string
		worn bool
	}{
		{"by chance", false},
		{"at a worn place", true},
	} {
		d := newDraft(3)
		d.dt, d.noise = 0.01, 0.002
		left, side := 0, 1.0
		d.read = func(d *draft) float64 {
			if d.volts == 0 || d.x == d.lo || d.x == d.hi {
				return d.x
			}
			if left == 0 {
				side = math.Copysign(1, d.rng.Float64()-0.5)
				if d.rng.Float64() < 0.03 {
					left = 1
				}
				for _, at := range thick {
					if math.Abs(d.t-at[0]) < d.dt/2 {
						left = int(at[1])
					}
				}
			}
			x := d.x
			if left > 0 {
				left--
				x += 0.1 * side
			}
			if c.worn && d.x > 2.4 && d.x < 2.7 {
				x += 0.04 * d.rng.NormFloat64()
			}
			return x
		}
		got, v := look(t, d.sweeps(2))
		if f := finding(got, NoisyTrack); (f != nil) != c.worn {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// Of 20 stretches of the track with four passes each, one was rough in three of them: where
// others are rough as often as one pass in five it is chance, where none is it is a place.
func TestChanceOfARoughStretch(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		elsewhere int // passes rough in the other stretches, of 76
		place     bool
	}{
		{0, true},
		{16, false},
	} {
		n := &noiseMap{cells: make([]noiseCell, 20)}
		for k := range n.cells {
			n.cells[k].made = [2]int{2, 2}
			if k < c.elsewhere {
				n.cells[k].seen[0] = 1
			}
		}
		n.cells[7].seen = [2]int{2, 1}
		b := noiseBand{noiseCell: n.cells[7], first: 7, last: 7}
		if p := n.chanceOf(b); (p < Defaults().Limits.Significance) != c.place {
			t.Errorf("%d elsewhere: chance %.3g", c.elsewhere, p)
		}
	}
}
