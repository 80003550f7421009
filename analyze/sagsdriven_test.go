package analyze

import (
	"math"
	"testing"
)

// Volts that go down for as long as the motor is driven and are back at each start are
// the supply's; a ramp before a target, a battery that runs down and a soft start are
// other things. (Drawn.)
func TestVoltsThatGoDownWhileDriven(t *testing.T) {
	t.Parallel()
	draw := func(volts func(s, t float64) float64) func(uint64) *draft {
		return func(seed uint64) *draft {
			d := newDraft(seed)
			d.run(0, 1)
			for k := range 6 {
				sign := 1 - 2*float64(k%2)
				for n := range 70 {
					d.run(sign*volts(float64(n)/10, d.t), 0.1)
				}
				d.run(0, 0.5)
			}
			return d
		}
	}
	for _, c := range []struct {
		name  string
		make  func(seed uint64) *draft
		found bool
		want  Fault
	}{
		{"goes down and comes back", draw(func(s, _ float64) float64 { return 10 + 3.3*math.Exp(-s/2) }), true, WiringControl},
		{"goes down a little", draw(func(s, _ float64) float64 { return 12 + 1.2*math.Exp(-s/2) }), false, NoFault},
		{"a ramp before the target", draw(func(s, _ float64) float64 { return 12 - 3*math.Max(0, math.Min(1, s-4)) }), false, anyOther},
		{"a battery that runs down", draw(func(_, t float64) float64 { return 13 - t/15 }), false, anyOther},
		{"a soft start", draw(func(s, _ float64) float64 { return 12 - 6*math.Exp(-s/0.4) }), false, anyOther},
	} {
		for seed := range uint64(2) {
			got, v := look(t, c.make(seed))
			if (formed(got, SupplySag, sagsWhileDriven) != nil) != c.found || c.want != anyOther && v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
