package analyze

import "testing"

// A control that never lets go of a stop, and what looks like it.
func TestDriveThatStaysOn(t *testing.T) {
	t.Parallel()
	visits := func(d *draft) *draft {
		return d.run(12, 3).run(0, 1).run(-12, 1.5).run(0, 1).run(12, 1.2).run(0, 1)
	}
	for _, c := range []struct {
		name string
		draw func(d *draft) *draft
		want bool
	}{
		{"half a minute into a stop, to the end", func(d *draft) *draft { return visits(d).run(-12, 35) }, true},
		{"let go after ten seconds", func(d *draft) *draft { return visits(d).run(-12, 14).run(0, 20) }, false},
		{"held so at the other stop too", func(d *draft) *draft { return visits(d).run(12, 30).run(0, 1).run(-12, 40) }, false},
		{"still under way", func(d *draft) *draft { d.rate = 0.1; return visits(d).run(12, 25) }, false},
	} {
		for seed := range uint64(3) {
			r := judgedDraft(t, c.draw(newDraft(seed)))
			got, v := r.Captures[0], r.Verdict
			if got.shows(StaysOn) != c.want || c.want && v.Conclusion != WiringControl {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
