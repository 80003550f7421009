package analyze

import "testing"

// The volts of a drive whose channel ends below them are the channel's: no supply is low by
// them. Where they fall from there under load, they fall at the motor too. (Drawn.)
func TestClippedDriveIsNoLowSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		clipped int64   // rows
		stalled float64 // V at a stop, of the 5 under way
		sags    bool
	}{
		{"ends at 5 V", 900, 5, false},
		{"never more than 5 V", 0, 5, true},
		{"ends at 5 V and falls at the stops", 900, 3, true},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.dt, d.rate = 0.01, 0.6
			d.run(0, 1)
			for range 3 {
				for _, dir := range []float64{1, -1} {
					for d.run(dir*5, d.dt); d.x > d.lo && d.x < d.hi; {
						d.run(dir*5, d.dt)
					}
					d.run(dir*c.stalled, 1.5).run(0, 1)
				}
			}
			tr := d.trace()
			tr.Drive.Stats.Over = c.clipped
			got, v := lookAt(t, tr)
			if showsKind(got, SupplySag) != c.sags {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
