package analyze

import "testing"

// A motor that tires stalls where it went before; an object stops one that does
// not tire.
func TestTiredDrawn(t *testing.T) {
	t.Parallel()
	stops := func(d *draft, from float64) *draft {
		d.block = func(d *draft, dir float64) bool { return d.t > from && dir > 0 && d.x > 2.4 && d.x < 2.6 }
		return d
	}
	checkDrawn(t, []drawnCase{
		{"slower each time, and then not over the hump", func(s uint64) *draft {
			d := stops(newDraft(s), 50)
			d.speed = func(d *draft, dir float64) float64 { return 1 / (1 + d.t/60) }
			d.run(0, 1)
			for range 6 {
				d.run(12, 8).run(0, 0.5).run(-12, 8).run(0, 0.5)
			}
			return d
		}, Motor, Heating},
		{"stopped from one moment on, as fast as before", func(s uint64) *draft {
			d := stops(newDraft(s), 50)
			d.run(0, 1)
			for range 6 {
				d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
			}
			return d
		}, DoorMechanism, Jam},
	}, "")
}
