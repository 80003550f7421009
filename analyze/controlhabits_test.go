package analyze

import (
	"math"
	"testing"
)

// What a control does of its own accord, and a motor as a generator, is no sign of a
// fault; the same captures with one still show it.

// following gives the rotor some tenths of a second to gather speed and to lose it, where
// the place lets it go at the share that place gives.
func (d *draft) following(seconds float64, place func(x float64) float64) *draft {
	now := 0.0
	d.speed = func(d *draft, dir float64) float64 {
		now += (math.Abs(d.volts)/12 - now) * d.dt / seconds
		return now / math.Max(1e-9, math.Abs(d.volts)/12) * place(d.x)
	}
	return d
}

func anywhere(float64) float64 { return 1 }

// chopped drives with pulses for so many s.
func (d *draft) chopped(volts, on, off, seconds float64) *draft {
	for until := d.t + seconds; d.t < until; {
		d.run(volts, on).run(volts/3, off) // leads left open: the motor as a generator
	}
	return d
}

// pulsedStart begins a drive with pulses whose rests grow shorter.
func (d *draft) pulsedStart(volts, seconds float64) *draft {
	for k := 5.0; k > 0; k-- {
		d.run(volts, 0.2-0.025*k).run(0, 0.025*k)
	}
	return d.run(volts, seconds).run(0, 2)
}

func TestControlsOwnHabits(t *testing.T) {
	t.Parallel()
	pulses := func(s uint64, k func(float64) float64) *draft {
		d := newDraft(s)
		d.dt, d.rate = 0.002, 1
		d.following(0.03, k).run(0, 1)
		for range 4 {
			d.chopped(12, 0.09, 0.07, 8).run(0, 1).chopped(-12, 0.09, 0.07, 8).run(0, 1)
		}
		return d
	}
	soft := func(s uint64, k func(float64) float64) *draft {
		d := newDraft(s)
		d.rate, d.noise, d.hi = 1.7, 0.002, 2.9
		d.following(0.15, k).run(0, 1)
		for range 3 {
			d.pulsedStart(12, 4).pulsedStart(-12, 4)
		}
		return d
	}
	band := func(x float64) float64 {
		if x > 1.5 && x < 2 {
			return 0.5
		}
		return 1
	}
	sticks := func(s uint64) *draft {
		d := newDraft(s)
		d.dt, d.rate, d.noise = 0.002, 0.45, 0.004
		d.swinging(0.6, 0.15, false).run(0, 1)
		for range 3 {
			d.chopped(12, 0.09, 0.07, 16).run(0, 1).chopped(-12, 0.09, 0.07, 16).run(0, 1)
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"healthy, driven by pulses that the shaft follows", func(s uint64) *draft { return pulses(s, anywhere) }, NoFault, ""},
		{"the same pulses, a door that sticks at another distance", sticks, DoorMechanism, StickSlip},
		{"healthy, each drive begins with pulses", func(s uint64) *draft { return soft(s, anywhere) }, NoFault, ""},
		{"each drive begins with pulses, a door that binds", func(s uint64) *draft { return soft(s, band) }, DoorMechanism, SlowZone},
	}, "")
}
