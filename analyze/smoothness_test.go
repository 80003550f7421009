package analyze

import "testing"

// Where neither noise nor a converter's steps show, the shaft that sets out and is pressed
// into soft seals bends the line, by less than a sound track may depart from it. A worn
// one departs by more. (Drawn.)
func TestBendsBelowASoundTracksSmoothness(t *testing.T) {
	t.Parallel()
	for _, worn := range []bool{false, true} {
		d := newDraft(13)
		d.dt, d.noise, d.rate = 0.02, 0, 1.4
		d.speed = func(d *draft, dir float64) float64 {
			if in := d.hi - d.x; in < 1 {
				return 0.25 + 0.75*in
			}
			return 1
		}
		d.read = func(d *draft) float64 {
			if worn && d.volts != 0 && d.x > 3.6 && d.x < 4 {
				return d.x + 0.02*d.rng.NormFloat64()
			}
			return d.x
		}
		got, err := Examine(d.sweeps(4).trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if f := finding(got, NoisyTrack); (f != nil) != worn {
			t.Errorf("worn %t: %v", worn, got.Findings)
		}
	}
}
