package analyze

import (
	"math"
	"testing"
)

// buzzing adds noise that goes with the motor's current: so much at stall and a quarter of
// it under way.
func buzzing(seed uint64, dt, stall float64) *draft {
	d := newDraft(seed)
	d.dt, d.noise = dt, 0.001
	d.read = func(d *draft) float64 {
		switch {
		case d.volts == 0:
			return d.x
		case pressed(d) == 1:
			return d.x + stall*(2*d.rng.Float64()-1)
		}
		return d.x + stall/4*(2*d.rng.Float64()-1)
	}
	return d
}

// What a stalling motor sends into the wires is noise, at both stops alike: no tooth, no
// dead spot and no rough end. Teeth slip at the stop they are worn for, and are not heard
// while the shaft runs.
func TestNoiseOfAStallingMotor(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		drawn func(seed uint64) *draft
		want  Fault
	}{
		{"at 5 ms", func(s uint64) *draft { return buzzing(s, 0.005, 0.015).held(3) }, NoFault},
		{"at 4 ms, strong", func(s uint64) *draft { return buzzing(s, 0.004, 0.04).held(3) }, NoFault},
		{"at 20 ms", func(s uint64) *draft { return buzzing(s, 0.02, 0.018).held(3) }, NoFault},
		{"at 20 ms, strong", func(s uint64) *draft { return buzzing(s, 0.02, 0.05).held(3) }, NoFault},
		{"begins by pressing", func(s uint64) *draft { return buzzing(s, 0.005, 0.015).run(0, 1).run(-12, 3).sweeps(3) }, NoFault},
		{"teeth in it", func(s uint64) *draft {
			d := buzzing(s, 0.005, 0.015)
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x >= d.hi {
					return -0.15 / (d.rate * d.dt)
				}
				return 1
			}
			return d.held(3)
		}, Motor},
	} {
		for seed := range uint64(4) {
			got, v := look(t, c.drawn(seed))
			if v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// Hum of a twentieth of the travel makes each end of a stroke read by chance: that is no
// scale that changes.
func TestHumIsNoScale(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		d := newDraft(seed)
		d.dt = 0.001
		d.noise = 0.01
		at := d.rng.Float64()
		// Strokes that end in no step with the wave.
		d.read = func(d *draft) float64 { return d.x + 0.2*math.Sin(2*math.Pi*(50*d.t+at)) }
		d.run(0, 1)
		for k := range 5 {
			d.run(12, 6+0.037*float64(k)).run(0, 0.5+0.013*float64(k)).run(-12, 6+0.021*float64(k)).run(0, 0.5)
		}
		if got, v := look(t, d); v.Conclusion != NoFault {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
