package analyze

import "testing"

// A place that takes a quarter of the speed is within what a good motor keeps on any cam or over a
// dead centre; one that takes six tenths in every pass is not.
func TestCamAndBinding(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		there  float64
		oneWay bool
		want   Fault
	}{
		{"a cam, both ways", 0.72, false, NoFault},
		{"a weight over a dead centre, one way", 0.72, true, NoFault},
		{"binding both ways", 0.4, false, DoorMechanism},
		{"binding one way", 0.4, true, DoorMechanism},
	} {
		d := newDraft(31)
		d.noise, d.quantum = 0.002, 0.0024
		d.speed = func(d *draft, dir float64) float64 {
			if d.x < 2 || d.x > 2.9 || c.oneWay && dir < 0 {
				return 1
			}
			return c.there
		}
		got, v := look(t, d.sweeps(3))
		if v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
