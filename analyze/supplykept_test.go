package analyze

import "testing"

// Only the polarity is logged, and from one moment on it runs 40 % faster both ways: at a
// supply that stayed a load is off; where the supply rose with it, or was not logged, nothing
// proves that.
func TestFasterAtTheSameSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		before float64 // V; 0: not logged
		gain   float64
		kept   bool
		want   Fault
	}{
		{"the same supply", 14.2, 1.4, true, DoorMechanism},
		{"a supply that rose", 11, 1.4, false, NoFault},
		{"no supply logged", 0, 1.4, false, NoFault},
		{"nothing lost", 14.2, 1, false, NoFault},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.noise, d.quantum, d.signOnly, d.rate = 0.003, 0.0024, true, 0.6
			gain := 1.0
			d.speed = func(*draft, float64) float64 { return gain }
			sweeps := func() {
				for range 3 {
					d.run(12, 10).run(0, 0.5).run(-12, 10).run(0, 0.5)
				}
			}
			sweeps()
			since := len(d.time)
			gain = c.gain
			sweeps()
			tr := d.trace()
			if c.before > 0 {
				supply := make([]float64, len(d.time))
				for i := range supply {
					supply[i] = c.before + 0.05*d.rng.NormFloat64()
					if i >= since {
						supply[i] += 14.2 - c.before
					}
				}
				tr.Supply = beside("supply", "V", supply)
			}
			got, v := lookAt(t, tr)
			f := finding(got, LoadLost)
			if (f != nil) != (c.gain > 1) || f != nil && f.has(supplyStayed) != c.kept || v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
