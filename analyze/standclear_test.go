package analyze

import (
	"math"
	"testing"
)

// wandering draws sweeps between the stops under a reading that swings by itself, at rest
// too, and a stop to the shaft midway for so many seconds, until the drive ends.
func wandering(swing, stands float64) *draft {
	d := newDraft(31)
	for k := range 8 {
		d.run(12*(1-2*float64(k%2)), 7).run(0, 4)
	}
	from := d.t + 2
	d.block = func(d *draft, dir float64) bool { return d.t >= from }
	d.run(12, 2+stands)
	d.block = nil
	d.run(0, 4).run(-12, 7).run(0, 4).run(12, 7).run(0, 4)
	for i := range d.feed {
		d.feed[i] += swing * math.Sin(2*math.Pi*0.83*float64(i)*d.dt)
	}
	return d
}

// A short stand before the end of one move tells of an obstacle only where the reading does
// not swing by as much on its own.
func TestStandWithinWander(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		swing, stands float64
		found         bool
	}{
		{"a stand, a calm reading", 0, 0.3, true},
		{"a stand as long as the reading's own swing hides", 0.12, 0.3, false},
		{"a long stand in a swing", 0.12, 3, true},
		{"no stand, a swing", 0.12, 0, false},
	} {
		got, v := look(t, wandering(c.swing, c.stands))
		if showsKind(got, Jam) != c.found {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
