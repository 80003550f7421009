package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// clamped is a draft whose motor current is logged too: 0.15 A running, 0.6 A against a
// stop and as it starts, where the leads are not shorted.
type clamped struct {
	*draft
	amps []float64 // A
}

func newClamped(seed uint64, dt float64) *clamped {
	c := &clamped{draft: newDraft(seed)}
	c.dt = dt
	return c
}

// drive drives so for some seconds; amps says what flows at a time since it began, nil
// for what the motor draws.
func (c *clamped) drive(volts, s float64, amps func(s float64) float64) *clamped {
	n := len(c.time)
	for range int(math.Round(s / c.dt)) {
		c.run(volts, c.dt)
		at := c.t - c.time[n] - c.dt
		x := (0.15 + 0.45*math.Exp(-at/0.04)) * math.Copysign(1, volts)
		switch {
		case amps != nil:
			x = amps(at)
		case volts == 0:
			x = 0
		case c.x == c.lo || c.x == c.hi:
			x = math.Copysign(0.6, volts)
		}
		c.amps = append(c.amps, x+0.003*c.rng.NormFloat64())
	}
	return c
}

func (c *clamped) logged(unit string) *signal.Trace {
	tr := c.trace()
	tr.Current = beside("current", unit, c.amps)
	return tr
}

// A motor of a door draws 2 A on 12 V at the most: where more flows at hardly any volts,
// the leads touch or the winding is shorted. A motor that is braked drives a current at no
// volts too, right after it ran; two channels may be read milliseconds apart. (Drawn.)
func TestShorted(t *testing.T) {
	t.Parallel()
	level := func(x float64) func(float64) float64 { return func(float64) float64 { return x } }
	// short is a drive of 12 V through 6 ohm of feed and driver into so many ohm.
	short := func(c *clamped, ohm, s float64) {
		amps := 12 / (6 + ohm)
		c.drive(amps*ohm, s, level(amps)).drive(0, 0.5, nil)
	}
	drives := func(c *clamped, n int, after func(v float64)) {
		c.drive(0, 0.5, nil)
		for range n {
			for _, v := range []float64{12, -12} {
				c.drive(v, 5.5, nil)
				after(v)
				c.drive(0, 0.6, nil)
			}
		}
	}
	for _, x := range []struct {
		name string
		unit string
		dt   float64
		draw func(c *clamped)
		seen int
		ohm  float64
	}{
		{"half an ohm, now and then", "A", 0.01, func(c *clamped) {
			drives(c, 2, func(float64) { c.drive(0, 0.5, nil); short(c, 0.5, 0.6) })
		}, 4, 0.5},
		{"one ohm, never otherwise", "A", 0.01, func(c *clamped) {
			c.drive(0, 1, nil)
			for range 3 {
				short(c, 1, 0.6)
			}
		}, 3, 1},
		{"a tenth of an ohm, never otherwise", "A", 0.01, func(c *clamped) {
			c.drive(0, 1, nil)
			for range 3 {
				short(c, 0.1, 0.6)
			}
		}, 3, 0.1},
		{"twice only", "A", 0.01, func(c *clamped) {
			n := 0
			drives(c, 2, func(float64) {
				if n++; n <= 2 {
					c.drive(0, 0.5, nil)
					short(c, 0.5, 0.6)
				}
			})
		}, 0, 0},
		{"a motor of eight ohm at a stop, on a weak feed", "A", 0.01, func(c *clamped) {
			drives(c, 2, func(v float64) {
				c.drive(0, 0.5, nil).drive(12*8/(6+8.0), 0.6, level(12/(6+8.0))).drive(0, 0.5, nil)
			})
		}, 0, 0},
		{"current in an unknown unit", "", 0.01, func(c *clamped) {
			drives(c, 2, func(float64) { c.drive(0, 0.5, nil); short(c, 0.5, 0.6) })
		}, 0, 0},
		{"braked after each drive", "A", 0.005, func(c *clamped) {
			drives(c, 4, func(v float64) {
				c.drive(0, 0.15, func(s float64) float64 { return -v / 24 * math.Exp(-s/0.08) })
			})
		}, 0, 0},
		// The current is there twelve milliseconds before the volts, at each start.
		{"channels read apart", "A", 0.002, func(c *clamped) {
			drives(c, 2, func(float64) {})
			n := 6
			c.amps = append(c.amps[n:], make([]float64, n)...)
		}, 0, 0},
	} {
		for seed := range uint64(2) {
			c := newClamped(seed, x.dt)
			x.draw(c)
			got, v := lookAt(t, c.logged(x.unit))
			f := formed(got, SupplySag, shorted)
			if (f != nil) != (x.seen > 0) || f != nil && (f.Seen != x.seen || v.Conclusion != WiringControl) || f == nil && v.Conclusion != NoFault {
				t.Errorf("seed %d, %s: %s", seed, x.name, say(got, v))
			}
			if f == nil {
				continue
			}
			if ohm, _ := f.Measure("resistance"); math.Abs(ohm-x.ohm) > 0.07 {
				t.Errorf("seed %d, %s: %.2f ohm", seed, x.name, ohm)
			}
			// Of the parts only the motor's winding would do it as well.
			if c := v.Chances[1]; c.Fault != Motor || c.Probability < 0.08 {
				t.Errorf("seed %d, %s: after %s comes %s, %.2f", seed, x.name, v.Conclusion, c.Fault, c.Probability)
			}
			// That no drive was seen is the same short, and no second one.
			if none := finding(got, NoDrive); none != nil && none.Event != f.Event {
				t.Errorf("seed %d, %s: no drive is counted beside it", seed, x.name)
			}
		}
	}
}

// Pulses that fall between the rows leave a current at no volts, and the shaft goes on with
// it: nothing is shorted. (Drawn.)
func TestPulsesBetweenTheRowsAreNoShort(t *testing.T) {
	t.Parallel()
	running := func(float64) float64 { return 0.3 }
	for _, goesOn := range []bool{true, false} {
		c := newClamped(3, 0.01)
		// unseen is a drive whose volts fall between the rows, or a short that moves nothing.
		unseen := func(v, s float64) {
			if !goesOn {
				v = 0
			}
			from := len(c.draft.drive)
			c.drive(v, s, running)
			for i := from; i < len(c.draft.drive); i++ {
				c.draft.drive[i] = 0
			}
		}
		c.drive(0, 1, nil).drive(12, 1, running).drive(-12, 1, running)
		for range 4 {
			c.drive(0, 0.6, nil)
			unseen(12, 0.5)
			c.drive(0, 0.6, nil).drive(12, 1, running)
			unseen(12, 2)
			c.drive(0, 0.6, nil).drive(-12, 3.5, running).drive(0, 0.6, nil)
		}
		if got, v := lookAt(t, c.logged("A")); (formed(got, SupplySag, shorted) != nil) == goesOn {
			t.Errorf("goes on %v: %s", goesOn, say(got, v))
		}
	}
}
