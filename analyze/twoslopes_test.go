package analyze

import (
	"math"
	"testing"
)

// slopeFrom makes the track give k times the volts to the turn from a level on.
func slopeFrom(d *draft, a, k float64) *draft {
	d.read = func(d *draft) float64 {
		if d.x > a {
			return a + k*(d.x-a)
		}
		return d.x
	}
	return d
}

// A track of two slopes multiplies the speed, a door's drag takes one speed off; with
// ways of one speed the two are alike, and a band with two edges is the door's.
func TestTwoSlopesDrawn(t *testing.T) {
	t.Parallel()
	const heavy = 0.6 // the share of its speed that is left the one way
	ways := func(lost, from, to float64) func(d *draft, dir float64) float64 {
		return func(d *draft, dir float64) float64 {
			k := 1.0
			if dir < 0 {
				k = heavy
			}
			if d.x > from && d.x < to {
				k -= lost
			}
			return k
		}
	}
	even := func(speed, from, to float64) func(d *draft, dir float64) float64 {
		return func(d *draft, dir float64) float64 {
			if d.x > from && d.x < to {
				return speed
			}
			return 1
		}
	}
	ends := func(d *draft) *draft {
		d.rate = 0.5
		d.run(0, 1)
		for range 3 {
			d.run(12, 18).run(0, 0.5).run(-12, 28).run(0, 0.5)
		}
		return d
	}
	// A weight that lifts the door on the way to the middle and lowers it from there.
	weighs := func(one, lost float64) func(d *draft, dir float64) float64 {
		return func(d *draft, dir float64) float64 {
			k := 1 + one*dir + 0.08*dir*math.Cos(math.Pi*math.Min(1, (d.x-d.lo)/2.2))
			if d.x < 3.2 {
				k -= lost
			}
			return k
		}
	}
	checkDrawn(t, []drawnCase{
		{"a track of two slopes under a weight", func(s uint64) *draft {
			d := slopeFrom(newDraft(s), 3.2, 1.5)
			d.hi, d.speed = 4.1, weighs(0, 0)
			return ends(d)
		}, NoFault, SlowZone},
		{"a drag on two thirds of the way, under a weight", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = weighs(0.2, 0.3)
			return ends(d)
		}, DoorMechanism, SlowZone},
		{"a track of two slopes", func(s uint64) *draft {
			d := slopeFrom(newDraft(s), 2.4, 0.6)
			d.speed = ways(0, 0, 0)
			return ends(d)
		}, NoFault, SlowZone},
		{"a drag on the last half", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = ways(0.3, 2.4, 5)
			return ends(d)
		}, DoorMechanism, SlowZone},
		{"one or the other, both ways alike", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = even(0.6, 2.4, 5)
			return ends(d)
		}, CannotTell, SlowZone},
		{"a band with two edges, both ways alike", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = even(0.6, 1.6, 3.4)
			return ends(d)
		}, DoorMechanism, SlowZone},
	}, "")
}
