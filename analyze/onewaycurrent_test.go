package analyze

import (
	"math"
	"testing"
)

// A shaft that stands at a stop because one polarity does not get through a diode draws its
// stall current at the other polarity only: wiring. A blocked one draws it at both. (Drawn.)
func TestCurrentAtOnePolarityOnly(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		passes func(volts float64) bool
		form   bool
		want   Fault
	}{
		{"a diode", func(v float64) bool { return v > 0 }, true, WiringControl},
		{"a diode, the other way", func(v float64) bool { return v < 0 }, true, WiringControl},
		{"blocked", func(float64) bool { return true }, false, DoorMechanism},
	} {
		for seed := range uint64(2) {
			a := newAmmeter(seed)
			a.block = func(*draft, float64) bool { return true }
			a.amps = func(d *draft) float64 {
				if !c.passes(d.volts) {
					return 0
				}
				return math.NaN()
			}
			a.x, a.held = 2, 0.8
			a.run(0, 1.5)
			for range 3 {
				a.run(-12, 3).run(0, 1.5).run(12, 4).run(0, 1.5)
			}
			got, v := lookAt(t, a.trace())
			if f := finding(got, NoMotion); f == nil || (f.Form == currentOneWay) != c.form || v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
