package analyze

import "testing"

// A supply that was logged, and a motor that never gets half of it, either way: what is
// lost is lost in the control's output or before it. Two thirds a control may mean, one way
// only is a leg, some drives in full tell that the rest are meant, and a motor that is quick
// at its few volts was built for them. (Drawn.)
func TestNeverNearTheSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		up, down float64 // V
		last     float64 // V, of the last two sweeps
		pace     float64 // of the usual
		want     bool
	}{
		{"four tenths", 5, -5, 5, 1, true},
		{"two thirds", 8.4, -8.4, 8.4, 1, false},
		{"one way", 5, -12, 12, 1, false},
		{"in full at last", 5, -5, 12, 1, false},
		{"quick", 5, -5, 5, 8, false},
		{"in full", 12, -12, 12, 1, false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.speed = func(*draft, float64) float64 { return c.pace }
			d.run(0, 1)
			for range 2 {
				d.run(c.up, 14).run(0, 1).run(c.down, 14).run(0, 1)
			}
			d.run(c.last, 14).run(0, 1).run(-c.last, 14).run(0, 1)
			tr := d.trace()
			supply := make([]float64, len(d.time))
			for i := range supply {
				supply[i] = 12.6 + 0.02*d.rng.NormFloat64()
			}
			tr.Supply = beside("supply", "V", supply)
			got, v := lookAt(t, tr)
			if (formed(got, SupplySag, neverFull) != nil) != c.want || c.want && v.Conclusion != WiringControl {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
