package analyze

import (
	"math"
	"testing"
)

// chop drives in pulses at 0.4 of the speed. Between them the leads are open and show
// what the motor generates: the mean of what is logged is more than what drives it.
func (d *draft) chop(volts, s float64) *draft {
	from, was := len(d.drive), d.speed
	d.speed = func(d *draft, dir float64) float64 {
		if was != nil {
			return 0.4 * was(d, dir)
		}
		return 0.4
	}
	d.run(volts, s)
	d.speed = was
	for i := from; i < len(d.drive); i++ {
		if (i-from)%4 >= 2 {
			d.drive[i] -= 5.0 / 12 * volts
		}
	}
	return d
}

// gathering lets the motor gather speed over a fifth of a second.
func gathering(d *draft) *draft {
	was, from, band := 0.0, 0.0, d.speed
	d.speed = func(d *draft, dir float64) float64 {
		if dir != was {
			was, from = dir, d.t
		}
		k := math.Min(1, (d.t-from)/0.2)
		if band != nil {
			k *= band(d, dir)
		}
		return k
	}
	return d
}

// Where the drive is pulsed for a part of a move, and in drives that are all start, the
// speed says nothing of the place; of a door that binds it does still. (Drawn.)
func TestSpeedOfChoppedAndShortDrives(t *testing.T) {
	t.Parallel()
	chopped := func(d *draft) *draft {
		d.run(0, 1)
		for range 3 {
			d.run(12, 2.2).chop(12, 3.5).run(12, 4).run(0, 0.5)
			d.run(-12, 2.2).chop(-12, 3.5).run(-12, 4).run(0, 0.5)
		}
		return d
	}
	jogged := func(d *draft) *draft {
		d.rate = 1.6
		gathering(d).sweeps(1)
		for range 4 {
			for _, volts := range []float64{12, -12} {
				d.run(volts, 0.95).run(0, 0.5)
				for range 4 {
					d.run(volts, 0.39).run(0, 0.5)
				}
				d.run(volts, 4).run(0, 0.5)
			}
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"chopped in the middle", func(s uint64) *draft { return chopped(newDraft(s)) }, NoFault, ""},
		{"chopped in the middle, a band that binds before", func(s uint64) *draft { return chopped(bandAt(newDraft(s), 1, 1.4)) }, DoorMechanism, SlowZone},
		{"short drives in the middle", func(s uint64) *draft { return jogged(newDraft(s)) }, NoFault, ""},
		{"short drives in the middle, a band that binds", func(s uint64) *draft { return jogged(bandAt(newDraft(s), 1, 1.4)) }, DoorMechanism, SlowZone},
		// Nothing else is there to measure by.
		{"short drives only, a band that binds", func(s uint64) *draft {
			d := bandAt(newDraft(s), 2, 2.6).run(0, 1)
			d.rate = 1.6
			for k := range 8 {
				volts := float64(12 - 24*(k%2))
				d.run(volts, 0.1+0.03*float64(k)).run(0, 0.4)
				for range 12 {
					d.run(volts, 0.39).run(0, 0.4)
				}
			}
			return d
		}, DoorMechanism, SlowZone},
	}, SlowZone)
}

// caught makes the drive one of pulses so short that a row catches one or a rest between
// two: a share of the rows reads no volts, now more of them and now fewer.
func (d *draft) caught(off float64) *draft {
	for i, v := range d.drive {
		if v != 0 && d.rng.Float64() < off {
			d.drive[i] = 0
		}
	}
	return d
}

// Pulses of one share of time all along are no part of a move that is pulsed: the speed
// counts at every place, whichever rows caught fewer of them. (Drawn.)
func TestSpeedUnderPulsesAllAlong(t *testing.T) {
	t.Parallel()
	sealed := func(depth float64) func(uint64) *draft {
		return func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.002
			d.speed = func(d *draft, dir float64) float64 {
				if in := (d.lo + depth - d.x) / depth; in > 0 && dir < 0 {
					return 1 - 0.95*in
				}
				return 1
			}
			return d.sweeps(2).caught(0.09)
		}
	}
	checkDrawn(t, []drawnCase{
		{"a sound seal", sealed(0.1), NoFault, ""},
		{"a seal that swelled", sealed(1), DoorMechanism, SlowZone},
	}, SlowZone)
}
