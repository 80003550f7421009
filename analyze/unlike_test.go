package analyze

import (
	"math"
	"testing"
)

// Things of one look and another cause, each drawn from straight lines.
func TestUnlike(t *testing.T) {
	t.Parallel()
	checkDrawn(t, []drawnCase{
		// A spring that is wound up on the way loads one direction and helps the other;
		// a line bends alike both ways.
		{"a spring on the lever", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				wound := math.Max(0, (3.2-d.x)/2.7)
				if dir < 0 {
					return 1 - 0.8*wound
				}
				return 1 + 0.1*wound
			}
			full := 25.0
			d.run(0, 1)
			for range 3 {
				d.run(12, 6).run(0, 0.5).run(-12, full).run(0, 0.5)
			}
			return d
		}, DoorMechanism, SlowZone},
		// Play and wound-up gears take half a second off a stop, each time: not a motor
		// that does not start.
		{"short drives off the stops", func(s uint64) *draft {
			d := newDraft(s).played(0.2)
			d.run(0, 1)
			for k := range 6 {
				full := 6 + 0.1*float64(k)
				d.run(12, full).run(0, 0.1).run(-12, 0.24).run(0, 0.3).run(-12, full).run(0, 0.1)
				if k != 3 {
					d.run(12, 0.24).run(0, 0.3)
				}
			}
			return d
		}, NoFault, ""},
		// An input that nothing holds sinks slowly and leaps back onto the line.
		{"losses that sink slowly", func(s uint64) *draft {
			d := newDraft(s)
			held := 0.0
			d.read = func(d *draft) float64 {
				for _, at := range []float64{3.1, 8.2, 18.5, 24} {
					if d.t > at && d.t < at+0.6 {
						held += (0.3 - held) * d.dt / 0.08
						return held
					}
				}
				held = d.x
				return d.x
			}
			return d.sweeps(2)
		}, WiringControl, Dropouts},
		// Open beyond 3.9 V the input is drawn to 4.5 V: the way back begins with a leap,
		// however soon after the last move.
		{"open beyond, rests of any length", func(s uint64) *draft {
			d := newDraft(s)
			held := d.x
			d.read = func(d *draft) float64 {
				if d.x < 3.9 {
					held = d.x
				} else {
					held += (4.55 - held) * d.dt / 0.04
				}
				return held
			}
			d.x = 4
			held = 4.5
			return d.run(0, 1).run(-12, 0.5).run(0, 0.4).run(12, 0.5).run(0, 0.4).run(-12, 3).run(0, 1).run(-12, 0.4).run(0, 3).run(12, 1).run(0, 2)
		}, FeedbackSensor, DeadSpot},
	}, "")
}

// A ground that the sensor shares with the motor lifts the reading while it stalls: up to
// what a ground may drop that is no fault.
func TestSharedGround(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lift float64 // V
		want Fault
	}{{0.1, NoFault}, {0.35, WiringControl}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt = 0.02
			d.read = func(d *draft) float64 {
				if pressed(d) == 1 && d.volts < 0 {
					return d.x + c.lift
				}
				return d.x
			}
			if got, v := look(t, d.sweeps(4)); v.Conclusion != c.want {
				t.Errorf("%.2f V, seed %d: %s", c.lift, seed, say(got, v))
			}
		}
	}
}

// The supply holds and the motor gets less the more it draws: what is lost is lost
// between the two. A bridge's own volts are no such loss.
func TestSupplyHolds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		feed float64 // ohm between supply and motor
		want Fault
	}{{"20 ohm", 20, WiringControl}, {"a bridge's 1 ohm", 1, NoFault}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			const r, run = 24.0, 0.07 // ohm and A of the motor
			under := 12 - run*c.feed
			stop := 12 * r / (r + c.feed)
			d.run(0, 1)
			for range 4 {
				for _, dir := range []float64{1, -1} {
					d.run(dir*stop, 0.03).run(dir*under, (d.hi-d.lo)/d.rate*12/under).run(dir*stop, 1.5).run(0, 0.7)
				}
			}
			tr := d.trace()
			supply := make([]float64, len(d.time))
			for i := range supply {
				supply[i] = 12.6 + 0.01*d.rng.NormFloat64()
			}
			tr.Supply = beside("supply", "V", supply)
			got, err := Examine(tr, Defaults())
			if err != nil {
				t.Fatal(err)
			}
			v := Judge(got).Verdict
			if v.Conclusion != c.want || (finding(got, SupplySag) != nil) != (c.want == WiringControl) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// One run each way tells little of a difference, but four times as slow is no sound door's.
func TestFarSlowerOneWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		slower float64
		sound  bool
	}{{2.2, true}, {4, false}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.speed = func(_ *draft, dir float64) float64 {
				if dir < 0 {
					return 1 / c.slower
				}
				return 1
			}
			got, v := look(t, d.run(0, 1).run(12, 6).run(0, 0.5).run(-12, 5*c.slower+1).run(0, 1))
			if (v.Conclusion == NoFault) != c.sound || (finding(got, UnevenWays) == nil) != c.sound {
				t.Errorf("%.1f times, seed %d: %s", c.slower, seed, say(got, v))
			}
		}
	}
}
