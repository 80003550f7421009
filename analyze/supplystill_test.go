package analyze

import "testing"

// Where nothing moves, a logged supply that gives way in every drive is told all the
// same; one that holds leaves open what is wrong. (Drawn.)
func TestSupplyGivesWayAndNothingMoves(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		under float64 // V, supply while driven
		found bool
	}{
		{"falls to half", 6.4, true},
		{"loses what a sound harness loses", 11.9, false},
	} {
		d := newDraft(6)
		d.x, d.signOnly, d.dt = 2.5, true, 0.02
		d.block = func(*draft, float64) bool { return true }
		d.run(0, 1)
		for range 4 {
			d.run(12, 2).run(0, 1).run(-12, 2).run(0, 1)
		}
		tr := d.trace()
		supply := make([]float64, len(tr.Time))
		for i, x := range tr.Drive.Mean {
			supply[i] = 12.4 + 0.05*d.rng.NormFloat64()
			if x > 0.5 || x < -0.5 {
				supply[i] += c.under - 12.4
			}
		}
		tr.Supply = beside("supply", "V", supply)
		got, v := lookAt(t, tr)
		f := formed(got, SupplySag, sagSupply)
		if (f != nil) != c.found || (v.Conclusion == WiringControl) != c.found || formed(got, NoMotion, "") == nil {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
