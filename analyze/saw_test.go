package analyze

import (
	"math"
	"testing"
)

// teeth lets the shaft, driven against a stop, fall back by a tooth and climb
// again.
func (d *draft) teeth(size float64) *draft {
	d.speed = func(d *draft, dir float64) float64 {
		if dir > 0 && d.x >= d.hi || dir < 0 && d.x <= d.lo {
			return -size / (d.rate * d.dt)
		}
		return 1
	}
	return d
}

// lets is teeth that let go so many times a second, each in a twentieth of a second.
func (d *draft) lets(size, hz float64) *draft {
	read := d.read
	d.read = func(d *draft) float64 {
		back := math.Mod(hz*d.t, 1)
		if fall := 0.05 * hz; back > 1-fall {
			back = (1 - back) / fall * (1 - fall)
		}
		return read(d) + size*pressed(d)*math.Copysign(back, d.volts)
	}
	return d
}

// held sweeps n times with four seconds of stall.
func (d *draft) held(n int) *draft { return d.heldFor(n, 4) }

// heldFor is held with stalls of some seconds.
func (d *draft) heldFor(n int, seconds float64) *draft {
	full := (d.hi-d.lo)/d.rate + seconds
	d.run(0, 1.5)
	for range n {
		d.run(12, full).run(0, 0.2).run(-12, full).run(0, 0.2)
	}
	return d
}

// rippled adds what ripple says of the time to the reading while driven.
func (d *draft) rippled(ripple func(d *draft) float64) *draft {
	d.read = func(d *draft) float64 {
		if d.volts == 0 {
			return d.x
		}
		return d.x + ripple(d)
	}
	return d
}

func sawCases() []drawnCase {
	noisy := func(s uint64) *draft {
		d := newDraft(s)
		d.dt, d.noise, d.rate = 0.002, 0.02, 0.4
		d.lo, d.hi, d.x = 1, 2.6, 1
		return d
	}
	return []drawnCase{
		{"teeth smaller than the noise of a row", func(s uint64) *draft { return noisy(s).teeth(0.04).held(3) }, Motor, GearSlip},
		{"teeth smaller than a converter step", func(s uint64) *draft {
			d := noisy(s)
			d.quantum = 0.05
			return d.teeth(0.04).held(3)
		}, Motor, GearSlip},
		{"teeth seen by a logger of 20 rows a second", func(s uint64) *draft {
			d := noisy(s)
			d.dt, d.rate = 0.05, 0.1
			d.noise = 0.012
			return d.teeth(0.05).held(3)
		}, Motor, GearSlip},
		{"long teeth of few rows, a stalled motor that is loud", func(s uint64) *draft {
			d := noisy(s)
			d.dt, d.rate, d.noise, d.quantum = 0.05, 0.27, 0.002, 0.005
			return d.rippled(func(d *draft) float64 { return 0.01 * pressed(d) * d.rng.NormFloat64() }).lets(0.08, 1.53).heldFor(1, 12)
		}, Motor, GearSlip},
		{"plain teeth, brushes that make the running reading noisy", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise, d.rate = 0.002, 0.002, 0.25
			return d.rippled(func(d *draft) float64 { return 0.007 * d.rng.NormFloat64() }).teeth(0.14).held(1)
		}, Motor, GearSlip},
		{"teeth at the stops, a stalled motor that steps both ways as far", func(s uint64) *draft {
			d := noisy(s)
			d.noise = 0.012
			return d.rippled(func(d *draft) float64 { return 0.02 * pressed(d) * d.rng.NormFloat64() }).lets(0.1, 3.5).held(3)
		}, Motor, GearSlip},
		{"healthy, a stalled motor that is loud", func(s uint64) *draft {
			d := noisy(s)
			d.noise = 0.012
			return d.rippled(func(d *draft) float64 { return 0.03 * pressed(d) * d.rng.NormFloat64() }).held(3)
		}, NoFault, ""},
		{"healthy, noisy and held at its stops", func(s uint64) *draft { return noisy(s).held(3) }, NoFault, ""},
		{"healthy, pulses of the drive in the reading", func(s uint64) *draft {
			return noisy(s).rippled(func(d *draft) float64 { return 0.012 * math.Sin(2*math.Pi*9.1*d.t) }).held(3)
		}, NoFault, ""},
		{"healthy, hum folded down", func(s uint64) *draft {
			d := noisy(s)
			d.read = func(d *draft) float64 { return d.x + 0.012*math.Sin(2*math.Pi*7.3*d.t) }
			return d.held(3)
		}, NoFault, ""},
		{"healthy, a ripple at the stops alone, faster than any tooth", func(s uint64) *draft {
			return noisy(s).rippled(func(d *draft) float64 { return 0.03 * pressed(d) * math.Sin(2*math.Pi*25*d.t) }).held(3)
		}, NoFault, ""},
		{"healthy, a saw at the stops alone that leaps with the drive", func(s uint64) *draft {
			return noisy(s).rippled(func(d *draft) float64 { // as from a supply that pumps
				return -0.04 * pressed(d) * math.Copysign(1, d.volts) * (math.Mod(7*d.t, 1) - 0.5)
			}).held(3)
		}, NoFault, ""},
		{"healthy, hum that a coarse converter shows at some levels alone", func(s uint64) *draft {
			d := noisy(s)
			d.noise, d.quantum, d.lo = 0.001, 0.027, 1.013
			d.hi = 2.587
			d.read = func(d *draft) float64 { return d.x + 0.004*math.Sin(2*math.Pi*31*d.t) }
			return d.held(3)
		}, NoFault, ""},
		{"healthy, a reading that wanders", func(s uint64) *draft {
			wander := 0.0
			return noisy(s).rippled(func(d *draft) float64 {
				wander += -20*wander*d.dt + 0.06*math.Sqrt(d.dt)*d.rng.NormFloat64()
				return wander
			}).held(3)
		}, NoFault, ""},
	}
}

func TestSaw(t *testing.T) {
	t.Parallel()
	checkDrawn(t, sawCases(), "")
}

// A sure line has a stated chance: of stands that hold nothing but noise, one
// in a thousand shows one.
func TestSawChance(t *testing.T) {
	t.Parallel()
	lines := 0
	for seed := range uint64(60) {
		d := newDraft(seed)
		d.dt, d.noise, d.rate = 0.01, 0.02, 0.4
		d.lo, d.hi, d.x = 1, 2.6, 1
		w := measured(d.held(3))
		for _, dir := range []Direction{Down, Up} {
			if w.sawOf(dir) != nil {
				lines++
			}
		}
	}
	if lines > 0 {
		t.Errorf("%d lines in 120 directions of noise", lines)
	}
}

// measured runs the analysis of a draft and returns its work.
func measured(d *draft) *work {
	tr := d.trace()
	opt := Defaults()
	w := &work{tr: tr, opt: opt, lim: opt.Limits, t: tr.Time}
	w.d = readDrive(tr, w.lim)
	w.condition()
	w.run()
	return w
}
