package analyze

import "testing"

// A supply that several motors share gives way to the others as well: what comes with one
// drive and not with the like of it, or while this motor is off, is theirs; what comes in
// each drive is its own. (Drawn.)
func TestSupplyGivesWayToOtherLoads(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		low   func(t, volts float64) bool
		found bool
	}{
		{"from the last stall on", func(t, _ float64) bool { return t > 36 }, false},
		{"now and then, also at rest", func(t, _ float64) bool { return int(t)%13 > 8 }, false},
		{"in each drive", func(_, volts float64) bool { return volts != 0 }, true},
		{"never", func(_, _ float64) bool { return false }, false},
	} {
		d := newDraft(11)
		d.x, d.signOnly = 2.5, true
		d.run(0, 1)
		for range 3 {
			d.run(12, 7).run(0, 0.5).run(-12, 7)
		}
		tr := d.trace()
		supply := make([]float64, len(tr.Time))
		for i, x := range tr.Drive.Mean {
			supply[i] = 13 + 0.03*d.rng.NormFloat64()
			volts := 0.0
			if x > 0.5 || x < -0.5 {
				volts = float64(x)
			}
			if c.low(tr.Time[i], volts) {
				supply[i] -= 2.4
			}
		}
		tr.Supply = beside("supply", "V", supply)
		got, v := lookAt(t, tr)
		if f := formed(got, SupplySag, sagSupply); (f != nil) != c.found || (v.Conclusion == WiringControl) != c.found {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
