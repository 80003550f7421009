package analyze

import (
	"math"
	"testing"
)

// Rests of a few rows with leaps between, through a coarse converter and in a few passes
// only, are friction that lets the shaft go and holds it again.
func TestTreads(t *testing.T) {
	t.Parallel()
	for _, step := range []float64{0.17, 0.2} {
		for seed := range uint64(3) {
			d := springing(newDraft(seed), step)
			d.dt, d.noise, d.quantum = 0.004, 0.002, 0.039
			got, v := look(t, d.run(0, 1).run(12, 7).run(0, 1).run(-12, 7).run(0, 1))
			if f := finding(got, StickSlip); f == nil || f.Strength < 0.5 || v.Conclusion != DoorMechanism {
				t.Errorf("steps of %.2f V, seed %d: %s", step, seed, say(got, v))
			}
		}
	}
}

// A converter's steps, a wave that the reading rides on, and a shaft that slows down and
// hurries on without ever standing are none.
func TestNoTreads(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(d *draft){
		"coarse steps":       func(d *draft) { d.quantum = 0.156 },
		"steps beyond noise": func(d *draft) { d.noise, d.quantum = 0, 0.078 },
		"wave on the reading": func(d *draft) {
			d.read = func(d *draft) float64 { return d.x + 0.03*math.Sin(2*math.Pi*4*d.t) }
		},
		"uneven pace": func(d *draft) {
			d.speed = func(d *draft, _ float64) float64 { return 1 + 0.5*math.Sin(2*math.Pi*d.t/0.21) }
		},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt, d.noise, d.quantum = 0.004, 0.002, 0.005
			spoil(d)
			got, v := look(t, d.run(0, 1).run(12, 7).run(0, 1).run(-12, 7).run(0, 1))
			if f := finding(got, StickSlip); f != nil && f.Event == stairway {
				t.Errorf("%s, seed %d: %s", name, seed, say(got, v))
			}
		}
	}
}

// Rests too short for a motor to be held and to start again are a reading that is held back
// for a moment, whatever else may call it uneven.
func TestNoTreadsShorterThanAStart(t *testing.T) {
	t.Parallel()
	for least, want := range map[float64]bool{0.02: false, 0.045: true} { // V, held back
		d := newDraft(1)
		d.dt, d.noise, d.quantum = 0.001, 0.0005, 0.001
		last, held := d.x, least
		d.read = func(d *draft) float64 {
			if math.Abs(d.x-last) > held {
				last, held = d.x, least*(1+0.5*d.rng.Float64())
			}
			return last
		}
		w := measured(d.run(0, 1).run(12, 7).run(0, 1).run(-12, 7).run(0, 1))
		w.found = nil
		w.findTreads()
		if w.has(StickSlip) != want {
			t.Errorf("held back for %.0f ms: %v", 1000*least/d.rate, w.found)
		}
	}
}
