package analyze

import (
	"math"
	"testing"
)

// The edges of a noisy band are told to half a percent of the travel, between
// the cells in which it was found: those are 2 % wide.
func TestNoisyEdges(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ lo, hi float64 }{{2.03, 2.46}, {1.27, 1.52}, {3.11, 3.75}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.read = func(d *draft) float64 {
				if d.x > c.lo && d.x < c.hi {
					return d.x + 0.06*d.rng.NormFloat64()
				}
				return d.x
			}
			got, v := look(t, d.sweeps(4))
			found := false
			for _, f := range got.Findings {
				if f.Kind == NoisyTrack {
					found = true
					if math.Abs(f.Volts.From-c.lo) > 0.02 || math.Abs(f.Volts.To-c.hi) > 0.02 {
						t.Errorf("%.2f to %.2f V, seed %d: told %.3f to %.3f V", c.lo, c.hi, seed, f.Volts.From, f.Volts.To)
					}
				}
			}
			if !found {
				t.Errorf("%.2f to %.2f V, seed %d: no noisy track in %s", c.lo, c.hi, seed, say(got, v))
			}
		}
	}
}

// A control that hunts over an open place is seen to hunt, as one stretch and
// at its own frequency, although the reading is thrown over most of the travel.
func TestHuntingOverOpenTrack(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed).wiped(3.9, 4.1).sweeps(2).near(3.8)
		const half = 0.5
		for range 9 {
			d.run(12, half).run(-12, half)
		}
		got, v := look(t, d.run(0, 1))
		best := 0
		for _, f := range got.Findings {
			if hz, ok := f.Measure("frequency"); f.Kind == Hunting && ok {
				best = max(best, f.Seen)
				if math.Abs(hz*2*half-1) > 0.02 {
					t.Errorf("seed %d: %.3f Hz, want %.3f", seed, hz, 1/(2*half))
				}
			}
		}
		if best < 15 {
			t.Errorf("seed %d: %d reversals together, want 17 or so: %s", seed, best, say(got, v))
		}
	}
}

// A worn piece with good track on either side is left by a leap at one edge and slowly at
// the other: it is no place beyond which the track is open, as the reading follows the shaft
// beyond. (Drawn.)
func TestNoEdgeBeforeGoodTrack(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.x > 3.0 && d.x < 3.8 {
				return 1.8 + 2*math.Max(0, d.x-3.0)/0.8
			}
			return d.x
		}
		c := examined(t, d.sweeps(3), false)
		if f := formed(c, DeadSpot, openBeyond); f != nil {
			t.Errorf("seed %d: %s", seed, f.Title)
		}
		d = newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.x > 3.4 {
				return 4.95
			}
			return d.x
		}
		if c := examined(t, d.sweeps(3), false); formed(c, DeadSpot, openBeyond) == nil {
			t.Errorf("seed %d, open to the end: not found: %v", seed, c.Findings)
		}
	}
}
