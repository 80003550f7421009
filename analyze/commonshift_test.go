package analyze

import (
	"math"
	"testing"
)

// Pulses too short for the shaft to come to rest: what the reading does at each
// switching, whichever way it goes, is the motor's current; a door whose weight
// makes it start the quicker one way shows no such thing.
func TestCommonShiftDrawn(t *testing.T) {
	t.Parallel()
	pulses := func(d *draft) *draft {
		d.dt, d.x = 0.01, 1
		d.run(0, 1)
		for _, v := range []float64{12, -12, 12} {
			for range 24 {
				d.run(v, 0.15).run(0, 0.1)
			}
			d.run(0, 1)
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"motor current in the sensor's ground", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.volts != 0 {
					return d.x + 0.08
				}
				return d.x
			}
			return pulses(d)
		}, WiringControl, DriveShift},
		{"a heavy door", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 { return 1 - 0.25*dir }
			return pulses(d)
		}, NoFault, ""},
	}, DriveShift)
}

// A spring drives a shaft back from its stop, never on into it: what the reading
// does the other way when the motor is let go came from the motor's current.
func TestWrongReleaseDrawn(t *testing.T) {
	t.Parallel()
	stall := func(d *draft) bool { return d.volts > 0 && d.x >= d.hi || d.volts < 0 && d.x <= d.lo }
	sweeps := func(d *draft) *draft {
		d.run(0, 1)
		for range 2 {
			d.run(12, 6).run(0, 0.1).run(-12, 6).run(0, 0.1)
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"stall current in the sensor's ground", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if stall(d) {
					return d.x + 0.2*(1-d.x/5)
				}
				return d.x
			}
			return sweeps(d)
		}, WiringControl, DriveShift},
		{"stops that give and spring back", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if stall(d) {
					return d.x + math.Copysign(0.06, d.volts)
				}
				return d.x
			}
			return sweeps(d)
		}, NoFault, ""},
	}, DriveShift)
}
