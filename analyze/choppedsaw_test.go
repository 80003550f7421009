package analyze

import (
	"math"
	"testing"
)

// choppedAtTop sweeps and holds as [draft.held] does, with a saw of the reading at the
// upper stop: it climbs slowly and falls fast, seven times a second. Where chop says so
// the drive is pulsed there: each row comes a little later in the pulses than the one
// before, so that one in four finds it off, and an instrument's filter lets it fall to
// 0.4 of the drive. The current in the sensor's ground goes with the same beat.
func choppedAtTop(seed uint64, chop bool) *draft {
	d := newDraft(seed)
	d.dt, d.noise, d.rate = 0.005, 0.01, 0.4
	d.lo, d.hi, d.x = 1, 2.6, 1
	var off []bool
	d.read = func(d *draft) float64 {
		held := d.volts > 0 && d.x == d.hi
		phase := math.Mod(7.3*d.t, 1)
		off = append(off, held && phase > 0.75)
		if !held {
			return d.x
		}
		if phase > 0.75 {
			phase = 3 * (1 - phase)
		}
		return d.x + 0.03*(phase-0.4)
	}
	d.held(3)
	for i := range off {
		if chop && off[i] {
			d.drive[i] *= 0.4
		}
	}
	return d
}

// A saw of the reading at a stop is that of teeth under a steady drive. Where the drive
// is chopped its pulses make one. (Drawn.)
func TestSawOfAChoppedDrive(t *testing.T) {
	t.Parallel()
	for _, chop := range []bool{false, true} {
		for seed := range uint64(3) {
			got, v := look(t, choppedAtTop(seed, chop))
			if f := finding(got, GearSlip); (f != nil) == chop || chop && v.Conclusion != NoFault || !chop && v.Conclusion != Motor {
				t.Errorf("seed %d, chopped %v: %s", seed, chop, say(got, v))
			}
			if w := measured(choppedAtTop(seed, chop)); len(w.pressed(Down)) != 3 || (len(w.pressed(Up)) == 3) == chop {
				t.Errorf("seed %d, chopped %v: %d stands above and %d below are looked at", seed, chop, len(w.pressed(Up)), len(w.pressed(Down)))
			}
		}
	}
}
