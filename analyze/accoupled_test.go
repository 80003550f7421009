package analyze

import (
	"math"
	"testing"
)

// An input set to AC shows the speed, both ways about 0 V; a wire shorted to ground that
// the current lifts knows no direction, and nothing is above a short that is quiet.
func TestCoupledAC(t *testing.T) {
	t.Parallel()
	const tau = 0.3 // s
	for _, c := range []struct {
		name string
		read func() func(d *draft) float64
		want bool
	}{
		{"set to AC", func() func(d *draft) float64 {
			was, v := math.NaN(), 0.0
			return func(d *draft) float64 {
				if !math.IsNaN(was) {
					v = math.Exp(-d.dt/tau) * (v + d.x - was)
				}
				was = d.x
				return v
			}
		}, true},
		{"shorted to ground", func() func(d *draft) float64 { return func(*draft) float64 { return 0 } }, false},
		{"shorted to ground that the current lifts", func() func(d *draft) float64 {
			return func(d *draft) float64 { return 0.01 * math.Abs(d.volts) }
		}, false},
		{"sound", func() func(d *draft) float64 { return nil }, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.noise, d.quantum, d.read = 0.05, 0.04, c.read()
			got, v := look(t, d.sweeps(3))
			if doubted(got, ACCoupled) != c.want || c.want && v.Conclusion != CannotTell {
				t.Errorf("%s, seed %d: doubt %v, %s", c.name, seed, doubted(got, ACCoupled), say(got, v))
			}
		}
	}
}
