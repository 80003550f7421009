package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// tapered is a control and a motor by the motor's equations, V = Vs - I*feed and
// n = (V - I*ohms)/Ke, with an inrush at each start.
type tapered struct {
	ohms, feed float64 // of the motor and of what feeds it
	low        float64 // V the control slows down to, 12 for one that does not
	targets    []float64
}

// draw gives the readings with the current, "" for none, else its unit.
func (c tapered) draw(seed uint64, unit string) *signal.Trace {
	const load, ramp, near = 0.12, 0.1, 0.35 // A; s; V before a target
	d := newCircuit(seed, nil)
	d.dt, d.noise = 0.004, 0.002
	amps, share := 0.0, 1.0
	d.block = nil
	d.speed = func(_ *draft, _ float64) float64 { return share }
	d.read = func(x *draft) float64 {
		d.current = append(d.current, amps+0.002*d.rng.NormFloat64())
		return x.x
	}
	step := func(dir, wish, since float64, held bool) {
		most := wish / (c.ohms + c.feed)
		amps = load + (most-load)*math.Exp(-since/0.03)
		if held {
			amps = most
		}
		v := wish - amps*c.feed
		share = (v - amps*c.ohms) / v
		d.run(dir*v, d.dt)
	}
	amps = 0
	d.run(0, 1)
	for _, x := range c.targets {
		dir := math.Copysign(1, x-d.x)
		stop := x >= d.hi || x <= d.lo
		held := 0.0
		for at := 0.0; held < 1; at += d.dt {
			there := d.x*dir >= x*dir
			if there && !stop {
				break
			}
			if there {
				held += d.dt
			}
			left := math.Min(1, math.Abs(x-d.x)/near)
			wish := math.Min(12, c.low+(12-c.low)*math.Min(left, at/ramp))
			step(dir, wish, at, there)
		}
		amps = 0
		d.run(0, 0.8)
	}
	t := d.trace()
	t.Current.Unit = unit
	if unit == "" {
		t.Current = nil
	}
	return t
}

// A control that starts softly and slows down for its targets gives the motor as little at
// the stops as a feed with too much resistance does; but it does so without the current, and
// leaves the shaft running. What a bridge and its wires cost a strong motor is no fault
// where their ohms are seen.
func TestControlSlowsDown(t *testing.T) {
	t.Parallel()
	toStops := []float64{4.5, 0.5, 4.5, 0.5, 4.5, 0.5}
	oneTarget := []float64{4.5, 0.5, 4.5, 2.5, 0.5, 4.5}
	for _, c := range []struct {
		name string
		is   tapered
		unit string
		lost bool
	}{
		{"slows down, with a current", tapered{24, 1, 8, toStops}, "A", false},
		{"15 ohm in the feed, with a current", tapered{24, 15, 12, toStops}, "A", true},
		{"slows down, once on the way", tapered{24, 1, 8, oneTarget}, "", false},
		{"15 ohm in the feed, once on the way", tapered{24, 15, 12, oneTarget}, "", true},
		{"3 ohm before a strong motor", tapered{14, 3, 12, toStops}, "A", false},
		{"9 ohm before a strong motor", tapered{14, 9, 12, toStops}, "A", true},
	} {
		for seed := range uint64(3) {
			if got, v := lookAt(t, c.is.draw(seed, c.unit)); (finding(got, SupplySag) != nil) != c.lost || !c.lost && v.Conclusion != NoFault {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
