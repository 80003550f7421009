package analyze

import "testing"

// One stand on the way clears nobody, where it is clear of the noise; one that may be
// noise's weighs less, and a drive that was let go is none.
func TestLoneStandOnTheWay(t *testing.T) {
	t.Parallel()
	stand := func(d *draft, from, to float64) *draft {
		d.block = func(d *draft, dir float64) bool { return d.t > from && d.t < to }
		return d.run(0, 1).sweeps(3)
	}
	for _, c := range []struct {
		name  string
		draw  func(d *draft) *draft
		clear bool // of a fault
	}{
		{"half a second", func(d *draft) *draft { return stand(d, 17, 17.5) }, false},
		{"in much noise, for little longer than a glance", func(d *draft) *draft { d.noise = 0.06; return stand(d, 17, 17.25) }, true},
		{"let go on the way", func(d *draft) *draft {
			return d.run(0, 1).sweeps(2).run(12, 2).run(0, 0.5).run(12, 4).run(0, 0.5).run(-12, 6)
		}, true},
	} {
		for seed := range uint64(3) {
			r := judgedDraft(t, c.draw(newDraft(seed)))
			got, v := r.Captures[0], r.Verdict
			if (v.Conclusion == NoFault) != c.clear || !c.clear && !got.shows(Pauses) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
