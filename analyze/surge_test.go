package analyze

import (
	"math"
	"testing"
)

// swinging makes the speed swing by depth either way, every so many V. A door
// that sticks begins each pass where it likes; a gear's places stand still.
func (d *draft) swinging(depth, every float64, still bool) *draft {
	phase, was := 0.0, 0.0
	d.speed = func(d *draft, dir float64) float64 {
		if dir != was {
			was = dir
			phase = 2 * math.Pi * d.rng.Float64()
		}
		if still {
			return 1 + depth*math.Sin(2*math.Pi*d.x/every)
		}
		// The next slip comes a little sooner or later.
		phase += 2*math.Pi*d.rate*d.dt/every + 0.8*math.Sqrt(d.dt)*d.rng.NormFloat64()
		return 1 + depth*math.Sin(phase)
	}
	return d
}

func surgeCases() []drawnCase {
	noisy := func(s uint64) *draft {
		d := newDraft(s)
		d.dt, d.noise, d.rate = 0.001, 0.02, 0.45
		d.lo, d.hi, d.x = 0.7, 4, 0.7
		return d
	}
	return []drawnCase{
		{"a door that sticks and slips below the noise of a row", func(s uint64) *draft {
			return noisy(s).swinging(0.5, 0.12, false).held(3)
		}, DoorMechanism, StickSlip},
		{"a door that sticks, seen by a logger of 20 rows a second", func(s uint64) *draft {
			d := noisy(s)
			d.dt, d.rate, d.noise = 0.05, 0.2, 0.01
			return d.swinging(0.5, 0.2, false).held(3)
		}, DoorMechanism, StickSlip},
		{"healthy, gears cut a little off, below the noise of a row", func(s uint64) *draft {
			return noisy(s).swinging(0.12, 0.12, true).held(3)
		}, NoFault, ""},
		{"healthy, a load that swings slowly", func(s uint64) *draft {
			return noisy(s).swinging(0.15, 0.8, false).held(3)
		}, NoFault, ""},
		{"healthy, hum as large", func(s uint64) *draft {
			d := noisy(s)
			d.read = func(d *draft) float64 { return d.x + 0.009*math.Sin(2*math.Pi*4.1*d.t) }
			return d.held(3)
		}, NoFault, ""},
		{"healthy, ripple of the brushes folded down", func(s uint64) *draft {
			d := noisy(s)
			d.dt = 0.01
			last, turned := d.x, 0.0
			d.read = func(d *draft) float64 {
				turned += math.Abs(d.x - last)
				last = d.x
				k := 1.0
				if d.volts < 0 {
					k = 1.03 // a little faster that way
				}
				return d.x + 0.009*math.Sin(2*math.Pi*k*turned*937)
			}
			return d.held(3)
		}, NoFault, ""},
		{"scratches at one place, evenly spaced", func(s uint64) *draft {
			d := noisy(s)
			d.read = func(d *draft) float64 {
				if d.x > 2 && d.x < 2.4 {
					return d.x + 0.04*math.Sin(2*math.Pi*d.x/0.06)
				}
				return d.x
			}
			return d.held(3)
		}, FeedbackSensor, NoisyTrack},
		{"healthy, steps of a coarse converter", func(s uint64) *draft {
			d := noisy(s)
			d.noise, d.quantum = 0.002, 0.04
			return d.held(3)
		}, NoFault, ""},
	}
}

func TestSurge(t *testing.T) {
	t.Parallel()
	checkDrawn(t, surgeCases(), "")
}

// Gears that are plainly off show as gears: their places stand still.
func TestSurgeOfAGear(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt, d.noise, d.rate = 0.001, 0.02, 0.45
		d.lo, d.hi, d.x = 0.7, 4, 0.7
		got, v := look(t, d.swinging(0.45, 0.25, true).held(3))
		if v.Conclusion != Motor || !showsKind(got, GearTurn) || showsKind(got, StickSlip) {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}

// The grain of a track, a wave over its places, seen in one pass each way is none. (Drawn.)
func TestSurgeOfGrainInOnePassEachWay(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt, d.noise, d.quantum, d.rate = 0.002, 0.0025, 0.0049, 1.1
		const period, swing = 0.06, 0.4 // V, of the speed
		d.read = func(d *draft) float64 {
			return d.x + swing*period/(2*math.Pi)*math.Sin(2*math.Pi*d.x/period)
		}
		if got, v := look(t, d.run(0, 1).run(12, 5).run(0, 1).run(-12, 5).run(0, 1)); showsKind(got, StickSlip) {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
