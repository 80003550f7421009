package analyze

import "testing"

// Driven both ways, and then again and again into the stop on which it lies: the other leg
// died, where that stop was left before as soon as it was reached. Whoever pressed there
// before and came away, or never left that stop, or comes away in the end, wants a place
// beyond it. (Drawn.)
func TestOneWayOnlySinceThen(t *testing.T) {
	t.Parallel()
	press := func(d *draft, n int) *draft {
		for range n {
			d.run(0, 2).run(12, 0.6)
		}
		return d.run(0, 2)
	}
	sweep := func(d *draft, n int) *draft {
		for range n {
			d.run(0, 1).run(12, 6).run(0, 1).run(-12, 6)
		}
		return d
	}
	for _, c := range []struct {
		name string
		draw func(d *draft)
		seen int
	}{
		{"since the third visit", func(d *draft) { press(sweep(d, 2).run(0, 1).run(12, 6), 8) }, 8},
		{"since the second visit", func(d *draft) { press(sweep(d, 1).run(0, 1).run(12, 6), 8) }, 8},
		{"pressed three times", func(d *draft) { press(sweep(d, 2).run(0, 1).run(12, 6), 3) }, 0},
		{"pressed before, and left", func(d *draft) {
			d.run(0, 1).run(12, 6)
			press(press(d, 8).run(-12, 6).run(0, 1).run(12, 6), 8)
		}, 0},
		{"at its first visit", func(d *draft) {
			d.run(0, 1).run(12, 3).run(0, 1).run(-12, 4).run(0, 1).run(12, 6)
			press(d, 8)
		}, 0},
		{"left in the end", func(d *draft) { press(sweep(d, 2).run(0, 1).run(12, 6), 8).run(-12, 6).run(0, 1) }, 0},
		{"at a stop that lies elsewhere now", func(d *draft) {
			sweep(d, 2)
			d.hi = 4
			press(d.run(0, 1).run(12, 6), 8)
		}, 0},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			c.draw(d)
			got, v := look(t, d)
			f := formed(got, HalfDrive, oneWaySince)
			if (f != nil) != (c.seen > 0) || f != nil && (f.Seen != c.seen || v.Conclusion != WiringControl || formed(got, Jam, wantsOn) != nil) || f == nil && v.Conclusion == WiringControl {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
