package analyze

import "testing"

// A way that takes nine times as long as the other is a shaft that moves, and no stand: it
// may not pass for sound. What is pressed against something yields a little, and what no
// track holds runs out: those stand. (Drawn.)
func TestWayFarSlowerThanTheOther(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		d     func() *draft
		found bool
	}{
		{"nine times as slow up", func() *draft {
			d := newDraft(21)
			d.speed = func(_ *draft, dir float64) float64 {
				if dir > 0 {
					return 0.11
				}
				return 1
			}
			d.x = d.hi
			return d.run(0, 1).run(-12, 6).run(0, 1).run(12, 44).run(0, 1)
		}, true},
		{"as fast", func() *draft {
			d := newDraft(22)
			d.x = d.hi
			return d.run(0, 1).run(-12, 6).run(0, 1).run(12, 6).run(0, 1)
		}, false},
		{"held, and yields a little", func() *draft {
			d := newDraft(23)
			d.x = d.hi
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x > 2 {
					return 0.02
				}
				return 1
			}
			return d.run(0, 1).run(-12, 6).run(0, 1).run(12, 44).run(0, 1)
		}, false},
	} {
		got, v := look(t, c.d())
		if found := formed(got, UnevenWays, "") != nil; found != c.found || c.found && v.Conclusion == NoFault {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
