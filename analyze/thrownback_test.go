package analyze

import (
	"math"
	"testing"
)

// A motor that a pressed stop throws back makes volts of the other sign, which run down;
// a control that hunts drives the other way.
func TestThrownBack(t *testing.T) {
	t.Parallel()
	atStop := func(s uint64, back func(d *draft)) *draft {
		d := newDraft(s)
		d.dt = 0.007
		d.run(0, 1)
		for range 3 {
			for _, volts := range []float64{12, -12} {
				for range 14 {
					d.run(volts, 0.5)
					if d.x == d.lo || d.x == d.hi {
						back(d)
					}
					d.run(0, 0.16)
				}
				d.run(0, 2)
			}
		}
		return d
	}
	for seed := range uint64(3) {
		c, v := look(t, atStop(seed, func(d *draft) {
			for at, k := d.volts, 0.5; k > 0.05; k *= 0.85 {
				d.run(-k*at, d.dt)
			}
		}))
		if v.Conclusion != NoFault || showsKind(c, Hunting) {
			t.Errorf("seed %d: thrown back: %s", seed, say(c, v))
		}
		c, v = look(t, atStop(seed, func(d *draft) { d.run(-0.5*d.volts, 0.1) }))
		if v.Conclusion == NoFault || !showsKind(c, Hunting) {
			t.Errorf("seed %d: driven back: %s", seed, say(c, v))
		}
	}
}

// Let go at a stop, with nothing to brake it, the motor is turned faster and faster and then
// slower by what was pressed: volts that come and go without an edge, of which only the
// highest reach what counts as driven. They are no drive to which no current flows.
func TestThrownBackSlowly(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		c := newCircuit(seed, func(float64) bool { return false })
		c.run(0, 1)
		for range 3 {
			for _, volts := range []float64{12, -12} {
				c.run(volts, 6)
				for at := 0.0; at < 0.7; at += c.dt {
					c.run(-0.25*volts*math.Sin(math.Pi*math.Sqrt(at/0.7)), c.dt)
					c.current[len(c.current)-1] = 0
				}
				c.run(0, 1)
			}
		}
		if got, v := lookAt(t, c.trace()); v.Conclusion != NoFault || len(got.Moves) != 6 {
			t.Errorf("seed %d: %d moves, %s", seed, len(got.Moves), say(got, v))
		}
	}
}
