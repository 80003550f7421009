package analyze

import (
	"math"
	"testing"
)

// A load that pulls the motor along takes its current through nothing while the shaft goes
// on; where the shaft stands meanwhile, the circuit is open. (Drawn.)
func TestCurrentThroughNothing(t *testing.T) {
	t.Parallel()
	for _, stands := range []bool{false, true} {
		for seed := range uint64(6) {
			a := newAmmeter(seed)
			a.noise, a.dt = 0.012, 0.002
			a.amps = func(d *draft) float64 {
				if d.volts > 0 && math.Abs(d.x-2.5) < 0.024 {
					return 0
				}
				return math.NaN()
			}
			if stands {
				a.block = waits(2.5, 0.15)
			}
			a.sweeps(3)
			got, err := Examine(a.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if f := finding(got, Broken); (f != nil) != stands {
				t.Errorf("stands %t, seed %d: %s", stands, seed, say(got, Judge(got).Verdict))
			}
		}
	}
}
