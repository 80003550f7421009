package analyze

import "testing"

// A reading that follows the drive a quarter of a cycle late swings all the same.
func TestHuntingHeardLate(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			late bool // the reading swings, behind the drive
			want bool
		}{{"follows late", true, true}, {"stands", false, false}} {
			d := newDraft(seed)
			d.quantum, d.noise, d.x, d.rate = 0.031, 0.002, 4.5, 0.43
			var was []float64
			d.read = func(d *draft) float64 {
				if !c.late {
					return 3
				}
				was = append(was, d.x)
				return was[max(0, len(was)-1-28)] // 0.14 s
			}
			d.run(-12, 4.5).run(0, 0.5)
			for range 30 {
				d.run(12, 0.28).run(-12, 0.28)
			}
			r := judgedDraft(t, d)
			answers := false
			for _, f := range r.Captures[0].Findings {
				answers = answers || f.Kind == Hunting && !f.has(doesNotAnswer)
			}
			if answers != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(r.Captures[0], r.Verdict))
			}
		}
	}
}
