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

// A supply whose volts sink unevenly slows a sound motor in few passes as surely as the
// volts fall; with the same volts and the same passes a motor that heats loses more.
func TestSlowerByVoltsThatSinkInFewPasses(t *testing.T) {
	t.Parallel()
	const load = 4.0 // V that the load takes of 12
	volts := []float64{12, 12.05, 11.4, 10.3, 10.2}
	for _, c := range []struct {
		name  string
		heat  float64 // share of the speed lost to heat from pass to pass
		found bool
	}{
		{"a supply that sinks", 0, false},
		{"heat as well", 0.1, true},
	} {
		d := newDraft(7)
		pass, share := 0, 0.0
		d.speed = func(*draft, float64) float64 { return share * (volts[pass] - load) / (12 - load) }
		d.run(0, 1)
		for i, v := range volts {
			pass, share = i, 1-c.heat*float64(i)
			sign, from := 1.0, len(d.drive)
			if i%2 == 1 {
				sign = -1
			}
			d.run(sign*12, 2.9/d.rate/share*(12-load)/(v-load)).run(0, 1.5)
			for k := from; k < len(d.drive); k++ {
				d.drive[k] *= v / 12
			}
		}
		got, v := look(t, d)
		if got.shows(Heating) != c.found || (v.Conclusion == Motor) != c.found {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
