package analyze

import (
	"math"
	"testing"
)

// The current tells what slows before one stop: what presses takes torque, a reading that
// bends there takes none. Where both stops take it alike it is good foam. (Drawn.)
func TestSealPressesByItsCurrent(t *testing.T) {
	t.Parallel()
	const idle, run, held = 0.01, 0.06, 0.22
	for _, c := range []struct {
		name      string
		low, high float64
		shows     bool
		want      Fault
		measured  bool
	}{
		{"loads the motor", 0.03, 0.75, true, DoorMechanism, true},
		{"the current knows nothing of it", 0.03, 0.75, false, NoFault, false},
		{"both alike", 0.5, 0.5, true, NoFault, false},
	} {
		d := sealed(c.low, c.high)(3)
		amps := make([]float64, len(d.time))
		reach := (d.hi - d.lo) / 12
		for i, v := range d.drive {
			dir := 0.0
			switch {
			case math.Abs(v) < 6:
				amps[i] = idle
				continue
			case v > 0:
				dir = 1
			default:
				dir = -1
			}
			load := -dir * (c.low*math.Max(0, 1-(d.feed[i]-d.lo)/reach) - c.high*math.Max(0, 1-(d.hi-d.feed[i])/reach))
			if !c.shows {
				load = 0
			}
			amps[i] = run + math.Max(-0.02, load*(held-run))
			if j := i - 20; j >= 0 && math.Abs(d.drive[j]) > 6 && math.Abs(d.feed[i]-d.feed[j]) < 0.02 {
				amps[i] = held
			}
		}
		tr := d.trace()
		tr.Current = beside("current", "A", amps)
		got, v := lookAt(t, tr)
		f := formed(got, SlowZone, intoOneStop)
		if v.Conclusion != c.want || (f != nil && f.has(pressesThere)) != c.measured {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
