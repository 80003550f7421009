package analyze

import (
	"math"
	"testing"
)

// swinging lets the speed swing evenly along the way, by the share given.
func swinging(d *draft, share, every float64) *draft {
	d.speed = func(d *draft, dir float64) float64 { return 1 + share*math.Sin(2*math.Pi*d.x/every) }
	return d
}

// Friction that holds and lets go at the same places each time looks like gears, but is
// gone without the door; gears turn uncoupled as well. A band that is heavy is no
// friction all along the way.
func TestSticksBesideFreeRun(t *testing.T) {
	t.Parallel()
	even := func(s uint64) *draft { return newDraft(s).sweeps(3) }
	swings := func(s uint64) *draft { return swinging(newDraft(s), 0.6, 0.3).sweeps(3) }
	fine := func(s uint64) *draft {
		d := newDraft(s)
		d.noise = 0.008
		d.read = func(d *draft) float64 {
			const step = 0.046 // V from one slip to the next
			return math.Max(d.lo, math.Min(d.hi, math.Floor(d.x/step)*step))
		}
		return d.sweeps(3)
	}
	band := func(s uint64) *draft {
		d := newDraft(s)
		d.speed = func(d *draft, dir float64) float64 {
			if d.x > 2 && d.x < 2.5 {
				return 0.75
			}
			return 1
		}
		return d.sweeps(3)
	}
	// A scatter of each reading for itself while the shaft moves, which a logger of
	// another kind does not show.
	brushes := func(s uint64) *draft {
		d := newDraft(s)
		last := d.x
		d.read = func(d *draft) float64 {
			v := d.x
			if d.x != last {
				v += 0.03 * d.rng.NormFloat64()
			}
			last = d.x
			return v
		}
		return d.sweeps(3)
	}
	filtered := func(s uint64) *draft {
		d := newDraft(s)
		d.dt, d.quantum = 0.01, 0.005
		return d.sweeps(3)
	}
	for _, c := range []struct {
		name          string
		coupled, free func(seed uint64) *draft
		says          bool
	}{
		{"brushes, and the free run by another logger", brushes, filtered, false},
		{"at the same places, and the free run by another logger", swings, filtered, true},
		{"fine slips, and the free run by another logger", fine, filtered, true},
		{"at the same places, with the door only", swings, even, true},
		{"at the same places, uncoupled too", swings, swings, false},
		{"fine slips with the door only", fine, even, true},
		{"a heavy band", band, even, false},
	} {
		for seed := range uint64(2) {
			coupled, uncoupled := examined(t, c.coupled(seed), false), examined(t, c.free(seed+10), true)
			if got := unevenCoupled([]*Capture{coupled, uncoupled}) != nil; got != c.says {
				t.Errorf("%s, seed %d: %v", c.name, seed, got)
			}
		}
	}
}
