package analyze

import (
	"math"
	"testing"
)

// restsOn rests on volts that move nothing.
func (d *draft) restsOn(volts, s float64) *draft {
	k := d.speed
	d.speed = func(*draft, float64) float64 { return 0 }
	d.run(volts, s)
	d.speed = k
	return d
}

// A control that rests on a few volts, now of one sign and now of the other, gives the
// motor the same volts both ways; a leg that loses some does not.
func TestHoldingVolts(t *testing.T) {
	t.Parallel()
	held := func(s uint64, up float64, first, last float64) *draft {
		d := newDraft(s)
		d.run(0, 0.5)
		for range 3 {
			d.run(up, 6*12/up).restsOn(first, 0.8).run(-12, 6).restsOn(last, 0.6)
		}
		return d
	}
	for seed := range uint64(3) {
		for _, rest := range [][2]float64{{1.5, -1.5}, {1.5, 0}, {-1.5, 0}} {
			c, v := look(t, held(seed, 12, rest[0], rest[1]))
			if v.Conclusion != NoFault || math.Abs(c.Levels.High+c.Levels.Low) > 0.3 {
				t.Errorf("seed %d: held by %v: %s levels %v", seed, rest, say(c, v), c.Levels)
			}
			if c, v = look(t, held(seed, 8.5, rest[0], rest[1])); v.Conclusion != WiringControl {
				t.Errorf("seed %d: fewer volts one way, held by %v: %s", seed, rest, say(c, v))
			}
		}
		// An instrument beside zero has one rest.
		d := held(seed, 12, 0, 0)
		for i := range d.drive {
			d.drive[i] += 1.5
		}
		if c, v := look(t, d); v.Conclusion != NoFault || math.Abs(c.Levels.Rest-1.5) > 0.1 {
			t.Errorf("seed %d: beside zero: %s levels %v", seed, say(c, v), c.Levels)
		}
	}
}
