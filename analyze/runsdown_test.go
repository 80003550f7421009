package analyze

import "testing"

// Volts that go down on and on, by more than a battery loses, are the feed's, also where
// the motor's load makes it lose more than its share of speed; volts that each rest brings
// back, that a battery loses, or that go one way only are not that.
func TestVoltsThatRunDown(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		volts func(d *draft, from float64) float64 // at a time, for a drive begun at another
		found bool
	}{
		{"down by 40 %", func(d *draft, _ float64) float64 { return 12 - min(4.8, max(0, (d.t-15)*0.12)) }, true},
		{"down within one drive", func(d *draft, _ float64) float64 { return 12 - min(4.8, max(0, (d.t-27)*2)) }, true},
		{"down by 12 %", func(d *draft, _ float64) float64 { return 12 - min(1.5, max(0, (d.t-15)*0.12)) }, false},
		{"back at each start", func(d *draft, from float64) float64 { return 12 - min(4.8, (d.t-from)*0.8) }, false},
		{"up again", func(d *draft, _ float64) float64 {
			if d.t > 45 {
				return 11.5
			}
			return 12 - min(4.8, max(0, (d.t-15)*0.2))
		}, false},
	} {
		d := newDraft(35)
		// A load takes a fifth of the volts, so the speed falls by more than they do.
		d.speed = func(d *draft, dir float64) float64 { return max(0, 1-2.4/max(2.5, d.volts*dir)) * 1.25 }
		d.run(0, 1)
		for i := range 8 {
			sign := 1.0
			if i%2 == 1 {
				sign = -1
			}
			for from := d.t; d.t < from+8; {
				d.run(sign*c.volts(d, from), 0.1)
			}
			d.run(0, 1)
		}
		got, v := look(t, d)
		if (formed(got, SupplySag, runsDown) != nil) != c.found || c.found != (v.Conclusion == WiringControl) && c.name != "back at each start" || v.Conclusion == Motor {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
