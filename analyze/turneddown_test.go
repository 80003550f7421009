package analyze

import (
	"math"
	"slices"
	"testing"
	"time"
)

// taperedEarly draws sweeps, and drives to a place on the way before which the control turns the
// drive down from 12 V; under the load the motor stands at 6 V.
func taperedEarly(seed uint64, to, blockedAt float64) *draft {
	d := newDraft(seed)
	d.speed = func(d *draft, _ float64) float64 { return math.Max(0, 2-12/math.Abs(d.volts)) }
	d.run(0, 1).sweeps(2)
	for range 2 {
		d.run(12, 2)
		d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= blockedAt }
		for v := 12.0; v > to; v -= 0.1 {
			d.run(v, 0.05)
		}
		d.run(to, 1)
		d.block = nil
		d.run(0, 1).run(-12, 7).run(0, 1)
	}
	return d.sweeps(1)
}

// A shaft that comes to a stand as its drive is turned down, along the line that its motor's
// speed keeps with the volts, was to stand there. One that stands at volts at which it would
// have gone on was stopped.
func TestStandsAsTheDriveIsTurnedDown(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		to        float64 // V, of the drive in the end
		blockedAt float64 // V, of the reading
		jam       bool
	}{
		{"turned down to where the load holds it", 6.1, 5, false},
		{"stopped on the way, at 8 V", 8, 2.9, true},
		{"stopped at full speed, the drive turned down after it", 6.1, 2.2, true},
	} {
		for seed := range uint64(3) {
			got, v := look(t, taperedEarly(seed, c.to, c.blockedAt))
			if f := finding(got, Jam); (f != nil) != c.jam || !c.jam && v.Conclusion != NoFault {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// creeping draws a control that goes on by pulses of 0.11 s before its targets; the shaft
// runs up so late that it gets on in the pauses only, by so much each, V.
func creeping(seed uint64, step float64) *draft {
	d := newDraft(seed)
	d.lo, d.x, d.noise = 0.5, 1.2, 0.002
	creep := func(to float64) {
		dir := math.Copysign(1, to-d.x)
		d.run(12*dir, math.Abs(to-d.x)/d.rate).run(0, 0.07)
		d.block = func(*draft, float64) bool { return true }
		for range 4 {
			d.run(12*dir, 0.11)
			for range 14 {
				d.x += dir * step / 14
				d.run(0, d.dt)
			}
		}
		d.block = nil
		d.run(0, 8)
	}
	d.run(0, 1)
	for _, to := range []float64{1.02, 1.4, 1.1, 2, 2.23, 1.35, 1.6, 1.05} {
		creep(to)
	}
	return d
}

// The steps of a drive in pulses are no stands: the next pulse goes on from each. Where it
// does not, something is there.
func TestStepsOfPulsesAreNoStands(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		if got, v := look(t, creeping(seed, 0.02)); finding(got, Jam) != nil {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
	w := workOf(t, creeping(1, 0).trace())
	for _, s := range w.stallsOf() {
		if w.nextPulseGoesOn(s) {
			t.Errorf("pulses that get nowhere: one at %.2f s counts as a step", s.at)
		}
	}
}

// Where only the polarity is logged, a shaft that slows down before each of its targets and
// stands for a moment is let down by its control; one that runs into something at full speed
// is stopped.
func TestLandsSoftly(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		soft  bool
		stand float64 // s
		jam   bool
	}{
		{"lands softly", true, 0.4, false},
		{"stopped at full speed", false, 0.4, true},
		{"stopped at full speed, and pressed on for long", false, 1.6, true},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.signOnly, d.noise = true, 0.004
			target := 9.0
			d.speed = func(d *draft, dir float64) float64 {
				if c.soft && dir > 0 && target-d.x < 0.5 {
					return math.Max(0.15, 1.6*(target-d.x))
				}
				return 1
			}
			d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= target }
			d.run(0, 1).sweeps(2)
			for _, to := range []float64{2.1, 3.2, 2.7} {
				target = to
				for d.x < to {
					d.run(12, d.dt)
				}
				d.run(12, c.stand).run(0, 2)
				target = 9
				d.run(-12, 6).run(0, 1)
			}
			d.sweeps(1)
			got, v := look(t, d)
			if f := finding(got, Jam); (f != nil) != c.jam || !c.jam && v.Conclusion != NoFault {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// Where no rate is known there are no windows of it to go by, and nothing is said.
func TestTurnedDownWithoutARate(t *testing.T) {
	t.Parallel()
	w := measured(taperedEarly(1, 6.1, 5))
	stands := w.stallsOf()
	if len(stands) == 0 {
		t.Fatal("no stands")
	}
	w.window = 0
	said := make(chan bool, 1)
	go func() { said <- slices.ContainsFunc(stands, w.turnedDownTo) }()
	select {
	case yes := <-said:
		if yes {
			t.Error("turned down, by no rate")
		}
	case <-time.After(10 * time.Second):
		t.Fatal("never ends")
	}
}
