package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// switchedOffUnderWay sweeps three times; in the second the reading lies at nothing from
// the middle of the way on, the drive breaks off so many seconds later, dying away, and is
// given again so many seconds after the reading is back.
func switchedOffUnderWay(seed uint64, later, again float64) *draft {
	d := newDraft(seed)
	d.sweeps(1)
	d.run(12, 2.5)
	const gone = 2.0
	off := d.t + d.dt/2
	d.read = func(d *draft) float64 {
		if d.t > off && d.t < off+gone {
			return 0
		}
		return d.x
	}
	d.run(12, later)
	for volts := 12.0; volts > 0.5; volts *= math.Exp(-d.dt / 0.06) {
		d.run(volts, d.dt)
	}
	d.run(0, off+gone+again-d.t)
	return d.run(-12, 6).run(0, 0.5).sweeps(2)
}

// What the ignition takes as it is switched off, drive and reading in one instant, is left
// out and told. A control that stops because its reading is gone stops later, and a plug
// that carries both gives both back in one instant: these are losses as ever.
func TestFeedCutUnderWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		later, again float64
		told         bool
	}{
		{"ignition off and on", 0, 0.3, true},
		{"the control stops later", 0.1, 0.3, false},
		{"back in one instant", 0, 0, false},
	} {
		for seed := range uint64(3) {
			got, v := look(t, switchedOffUnderWay(seed, c.later, c.again))
			told := slices.ContainsFunc(got.Notes, func(s string) bool { return strings.Contains(s, "in the same instant") })
			if told != c.told || (v.Conclusion == NoFault) != c.told {
				t.Errorf("%s, seed %d: told %v; %s", c.name, seed, told, say(got, v))
			}
		}
	}
}
