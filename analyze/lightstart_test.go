package analyze

import (
	"math"
	"testing"
)

// A motor that a wound-up train helps along at each start draws hardly more than nothing
// while the shaft stands: its current dwindles from the inrush and grows as the train is wound
// the other way. A circuit that opens there cuts it within the time constant of the winding.
// (Drawn.)
func TestLightStartIsNoOpenCircuit(t *testing.T) {
	t.Parallel()
	const wound = 0.25 // s
	for _, opens := range []bool{false, true} {
		for seed := range uint64(4) {
			a := newAmmeter(seed)
			a.dt, a.running = 0.002, 0.28
			a.block = func(*draft, float64) bool { return a.since < wound }
			a.amps = func(d *draft) float64 {
				switch {
				case a.since >= wound:
					return math.NaN()
				case opens:
					return 0
				}
				return 0.015 + 0.06*a.since + 0.45*math.Exp(-a.since/0.03)
			}
			a.sweeps(3)
			got, err := Examine(a.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if f := finding(got, Broken); (f != nil) != opens {
				t.Errorf("opens %t, seed %d: %s", opens, seed, say(got, Judge(got).Verdict))
			}
		}
	}
}
