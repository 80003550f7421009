package analyze

import "testing"

// A battery that runs down slows a sound motor by more than its volts fall, for the load
// takes its volts first; a motor that heats loses far more than that. (Drawn.)
func TestSlowerByABatteryThatRunsDown(t *testing.T) {
	t.Parallel()
	const load = 3.0 // V that the load takes of 12
	for _, c := range []struct {
		name  string
		heat  float64 // share of the speed lost to heat
		fall  float64 // V
		found bool
	}{
		{"battery", 0, 1.8, false},
		{"heat and battery", 0.4, 0.8, true},
		{"heat", 0.3, 0, true},
	} {
		d := newDraft(7)
		d.speed = func(d *draft, _ float64) float64 {
			share := d.t / 100
			v := 12 - c.fall*share
			return (1 - c.heat*share) * 12 * (v - load) / (12 - load) / 12
		}
		d.sweeps(12)
		for i, v := range d.drive {
			if v > 1 || v < -1 {
				d.drive[i] = v * (12 - c.fall*float64(i)*d.dt/100) / 12
			}
		}
		got, v := look(t, d)
		if got.shows(Heating) != c.found || (v.Conclusion == Motor) != c.found {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
