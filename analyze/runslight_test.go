package analyze

import (
	"math"
	"testing"
)

// Driven up, the shaft stands; the way down it runs. Where its motor draws meanwhile what it
// draws to run, the gears do not take the shaft along; where it draws what it draws held, at the
// stops or as it starts, something holds it; and a reading that stands for less than a travel
// may have frozen. (Drawn.)
func TestRunsLightOneWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		amps    float64 // driven up
		seconds float64
		light   bool
	}{
		{"gears that slip one way", 0.08, 5, true},
		{"as with the load of the way down", 0.12, 5, true},
		{"held", 0.5, 5, false},
		{"held by a weak brush", 0.35, 5, false},
		{"no current", 0, 5, false},
		{"driven for less than a travel", 0.08, 0.7, false},
	} {
		for seed := range uint64(2) {
			a := newAmmeter(seed)
			a.x = 4
			a.block = func(_ *draft, dir float64) bool { return dir > 0 }
			a.amps = func(d *draft) float64 {
				if d.volts > 0 {
					return c.amps
				}
				return math.NaN()
			}
			a.run(0, 1)
			for range 3 {
				a.run(12, c.seconds).run(0, 1)
			}
			a.run(-12, 1.2).run(0, 1)
			for range 2 {
				a.run(12, c.seconds).run(0, 1)
			}
			got, v := lookAt(t, a.trace())
			f := finding(got, OneWay)
			if f == nil || f.has(runsLight) != c.light || c.light && v.Conclusion != Motor {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
