package analyze

import (
	"math"
	"testing"
)

// A door that sticks loads the motor until it lets go: the current saws and the shaft slows as
// it climbs, in few passes and below the noise of the reading's rows. A gear that is off to and
// fro alike is no sticking, nor is what another load draws on the same wire, with the drive off
// as well, nor one that the shaft knows nothing of. (Drawn.)
func TestLoadInSawTeeth(t *testing.T) {
	t.Parallel()
	const run, held, period = 0.1, 0.3, 1.4 // A, A, s
	saw := func(at float64) float64 {
		if at < 0.93 {
			return at/0.93 - 0.5
		}
		return (1-at)/0.07 - 0.5
	}
	wave := func(at float64) float64 { return math.Sin(2*math.Pi*at) / 2 }
	for _, c := range []struct {
		name                string
		shape               func(at float64) float64
		swing               float64 // A
		slows, always, want bool
	}{
		{"sticks and lets go", saw, 0.13, true, false, true},
		{"a little, as a sound gear does", saw, 0.05, true, false, false},
		{"to and fro alike", wave, 0.13, true, false, false},
		{"the shaft knows nothing of it", saw, 0.13, false, false, false},
		{"another load, also at rest", saw, 0.13, true, true, false},
	} {
		d := newDraft(4)
		d.dt, d.noise, d.rate, d.lo, d.hi, d.x = 0.005, 0.03, 0.12, 1, 3.4, 1
		var amps []float64
		d.speed = func(d *draft, dir float64) float64 {
			load := run + c.swing*c.shape(math.Mod(d.t/period, 1))
			draws := load
			switch {
			case dir < 0 && d.x <= d.lo || dir > 0 && d.x >= d.hi:
				draws = held
				if c.always {
					draws += load - run
				}
			case dir == 0 && c.always:
				draws = load - run + c.swing/2
			case dir == 0:
				draws = 0
			}
			amps = append(amps, draws+0.006*d.rng.NormFloat64())
			if !c.slows {
				load = run
			}
			return (held - load) / (held - run)
		}
		d.run(0, 2)
		for range 2 {
			d.run(12, 23).run(0, 2).run(-12, 23).run(0, 2)
		}
		tr := d.trace()
		tr.Current = beside("current", "A", amps)
		got, v := lookAt(t, tr)
		if told := formed(got, StickSlip, inSawTeeth) != nil; told != c.want || told && v.Conclusion != DoorMechanism {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
