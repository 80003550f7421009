package analyze

import (
	"strings"
	"testing"
	"time"
)

// wide goes to and fro over most of the travel and to no stop.
func wide(d *draft) *draft {
	d.x = 1
	return d.run(0, 1).run(12, 3.5).run(0, 1).run(-12, 3.5).run(0, 1).run(12, 3.5).run(0, 1).run(-12, 3.5).run(0, 1)
}

// tries comes up to a place and tries again from there, so often.
func tries(d *draft, n int) *draft {
	d.x = 1.8
	d.run(0, 1).run(-12, 1).run(0, 1).run(12, 3.5)
	for range n {
		d.run(0, 1).run(12, 2)
	}
	return d.run(0, 1)
}

// A shaft stalls again and again where it goes on in another capture: something is in its
// way, or the motor gave up there. Not where that is over, by the dates, where it was tried
// once, or where what it went before is no more than stops and instruments make. (Drawn.)
func TestStallsShortOfAnotherCapture(t *testing.T) {
	t.Parallel()
	stop := func(at float64) func(d *draft) {
		return func(d *draft) {
			d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= at }
			tries(d, 2)
		}
	}
	binds := func(d *draft) {
		d.speed = func(d *draft, dir float64) float64 {
			if dir > 0 && d.x > 1.9 {
				return max(0, 2.4-d.x) / 0.5
			}
			return 1
		}
		tries(d, 2)
	}
	back := func(d *draft) { stop(2.4)(d); d.run(-12, 1.5).run(0, 1) }
	first := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name  string
		draw  func(d *draft)
		later bool // it is the later one, by the dates; else the earlier one
		said  bool
		want  Fault
	}{
		{"held, not driven back", stop(2.4), true, true, DoorMechanism},
		{"slows down before", binds, true, true, DoorMechanism},
		{"runs back", back, true, true, DoorMechanism},
		{"over since", back, false, false, NoFault},
		{"tried once", func(d *draft) {
			d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= 2.4 }
			tries(d, 0)
		}, true, false, NoFault},
		{"by what stops give", func(d *draft) { d.hi = 3.7; tries(d, 2) }, true, false, NoFault},
	} {
		for seed := range uint64(2) {
			a, d := newDraft(seed), newDraft(seed+10)
			wide(a)
			c.draw(d)
			x, y := examined(t, a, false), examined(t, d, false)
			x.Source, y.Source = "sound.csv", "stuck.csv"
			x.Start, y.Start = first, first.Add(-time.Hour)
			if c.later {
				y.Start = first.Add(time.Hour)
			}
			r := Judge(x, y)
			if said := strings.Contains(r.Series.Text, "it stalls at"); said != c.said || r.Verdict.Chances[0].Fault != c.want {
				t.Errorf("%s, seed %d: %q, %s\n%s", c.name, seed, r.Series.Text, say(y, Judge(y).Verdict), say(y, r.Verdict))
			}
		}
	}
}

// A sensor's scale that shrank takes the pace of the reading along; what stops the shaft
// does not. (Drawn.)
func TestScaleTakesPaceAlong(t *testing.T) {
	t.Parallel()
	for seed := range uint64(2) {
		a, held, scaled := newDraft(seed), newDraft(seed+10), newDraft(seed+20)
		held.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= 2.3 }
		scaled.hi = 3.8
		scaled.read = func(d *draft) float64 { return 0.6 * d.x }
		x := examined(t, wide(a), false)
		for _, c := range []struct {
			d      *draft
			travel bool
		}{{held, true}, {scaled, false}} {
			s := shortOf(examined(t, tries(c.d, 3), false), x)
			if s == nil || (s.travelOverScale() > 0) != c.travel {
				t.Errorf("seed %d, travel %v: %+v", seed, c.travel, s)
			}
		}
	}
}
