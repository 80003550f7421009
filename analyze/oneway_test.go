package analyze

import "testing"

// What stands in a door's way stands at one place; a leg of the drive that is dead
// is so everywhere, and what is left of it may show as a volt or less.
func TestOneWayDrawn(t *testing.T) {
	upOnly := func(s uint64) *draft {
		d := newDraft(s)
		d.signOnly, d.x = true, 1.5
		d.speed = func(_ *draft, dir float64) float64 { return max(0, dir) }
		return d.run(0, 1)
	}
	checkDrawn(t, []drawnCase{
		{"no drive down reaches it, wherever it is", func(s uint64) *draft {
			d := upOnly(s)
			for range 5 {
				d.run(12, 0.5).run(0, 0.7).run(-12, 0.8).run(0, 0.7).run(-12, 0.8).run(0, 0.7)
			}
			return d
		}, WiringControl, OneWay},
		{"down comes with the drop of a diode", func(s uint64) *draft {
			d := newDraft(s)
			d.x = 1.5
			d.speed = func(_ *draft, dir float64) float64 { return max(0, dir) }
			d.run(0, 1).run(12, 0.5).run(0, 1)
			for range 9 {
				d.run(-0.7, 0.8).run(0, 1.2)
			}
			return d
		}, WiringControl, OneWay},
	}, OneWay)
}
