package analyze

import (
	"math"
	"slices"
	"testing"
)

// What an obstacle leaves of the travel is swept from the stop to where the shaft stands,
// time and again: that is a jam, however evenly it goes to and fro. A control that turns
// over about the same place without a stand hunts.
func TestSweepsToAnObstacleAreNoHunting(t *testing.T) {
	t.Parallel()
	const at = 3.0 // V, 37 % of the travel below the high stop
	for _, stand := range []float64{0.5, 0} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.noise, d.dt = 0.01, 0.01
			way := (d.hi - d.lo) / d.rate
			d.run(0, 0.5)
			for range 2 {
				d.run(12, way+0.4).run(-12, way+0.4)
			}
			d.run(12, way+0.4)
			d.block = func(d *draft, dir float64) bool { return dir < 0 && d.x < at }
			for range 5 {
				d.run(-12, (d.hi-at)/d.rate+stand).run(12, (d.hi-at)/d.rate+stand)
			}
			got, v := look(t, d.run(0, 0.5))
			jam, hunting := finding(got, Jam), finding(got, Hunting)
			if stand > 0 && (jam == nil || hunting != nil || v.Conclusion != DoorMechanism) {
				t.Errorf("seed %d, obstacle: %s", seed, say(got, v))
			}
			if stand == 0 && (hunting == nil || v.Conclusion == DoorMechanism) {
				t.Errorf("seed %d, turned over under way: %s", seed, say(got, v))
			}
		}
	}
}

// A noisy reading does not tell a stand of a quarter of a second, after which the control turns
// over; the current does, that comes up to that of a stop. One that stays what the motor draws
// to run, or lies midway, is that of a shaft that goes on, as against a heavy place. (Drawn.)
func TestBriefStandsByTheirCurrent(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		amps float64 // in the stand; 0.1 running, 0.38 at a stop
		want bool
	}{{0.38, true}, {0.34, true}, {0.25, false}, {0.1, false}} {
		d := newDraft(1)
		d.dt = 0.025
		var amps []float64
		run := func(volts, seconds, a float64) {
			for range int(math.Round(seconds / d.dt)) {
				amps = append(amps, math.Copysign(a, volts)+0.008*d.rng.NormFloat64())
			}
			d.run(volts, seconds)
		}
		run(0, 0.5, 0)
		for range 3 {
			run(12, 5, 0.1)
			run(12, 1, 0.38)
			run(-12, 5, 0.1)
			run(-12, 1, 0.38)
		}
		run(12, 2, 0.1)
		from := d.t
		d.block = func(*draft, float64) bool { return true }
		run(12, 0.3, c.amps)
		d.block = nil
		run(-12, 4, 0.1)
		tr := d.trace()
		tr.Current = beside("current", "A", amps)
		w := workOf(t, tr)
		stops := w.stallsOf()
		brief := stall{move: len(w.moves) - 2, level: 2.1, at: from, seconds: 0.3, arrived: true}
		if got := len(w.addHeld(slices.Clone(stops), []stall{brief})) > len(stops); got != c.want {
			t.Errorf("%.2f A: added %v, want %v", c.amps, got, c.want)
		}
		if len(w.addHeld(nil, []stall{brief})) > 0 {
			t.Errorf("%.2f A: added with nothing to compare", c.amps)
		}
	}
}

// What lies in the way gives a little, and pushes the shaft back as the drive dies away: it
// stood there all the same. (Drawn.)
func TestStandThatSpringsBackAtItsEnd(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.noise, d.dt = 0.002, 0.005
		d.sweeps(1).run(0, 1).run(12, 5).run(0, 2).run(-12, 6).run(0, 1)
		give := 0.0 // V
		d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > 2.3-give }
		d.run(12, 3.2)
		give = 0.02
		for _, volts := range []float64{8, 5.6, 3.9, 2.7, 1.9, 1.3, 0.9, 0.6} { // as filters let it
			d.x -= 0.0015
			d.run(volts, d.dt)
		}
		d.run(0, 2).run(12, 1).run(0, 4).run(-12, 4).run(0, 2)
		if got, v := look(t, d); formed(got, Jam, jamNotPast) == nil || v.Conclusion != DoorMechanism {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
