package analyze

import (
	"math"
	"testing"
)

// heldOnce draws sweeps between the stops with rests, and a stop to the shaft midway for so
// many seconds, until the drive ends.
func heldOnce(stands float64) *draft {
	d := newDraft(31)
	for k := range 8 {
		d.run(12*(1-2*float64(k%2)), 7).run(0, 4)
	}
	from := d.t + 2
	d.block = func(d *draft, dir float64) bool { return d.t >= from }
	d.run(12, 2+stands)
	d.block = nil
	d.run(0, 4).run(-12, 7).run(0, 4).run(12, 7).run(0, 4)
	return d
}

// A short stand before the end of one move tells of an obstacle only where the reading does
// not wander by as much on its own.
func TestStandWithinWander(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name           string
		wander, stands float64
		driven         bool // it wanders only as long as the motor is driven
		clear          bool
	}{
		{"a stand, a calm reading", 0, 0.3, false, true},
		{"a stand as long as the reading's own wander hides", 0.12, 0.3, false, false},
		{"a stand as long as the running motor's wander hides", 0.12, 0.3, true, false},
		{"a long stand in a wander", 0.12, 3, false, true},
	} {
		w := workOf(t, heldOnce(c.stands).trace())
		for i, at := range w.t {
			if !c.driven || w.d.pol[i] != 0 {
				w.v[i] += c.wander * math.Sin(2*math.Pi*0.83*at)
			}
		}
		k := 8 // the move that was held
		if got := w.clearOfWander(stall{move: k, level: w.moves[k].End, at: w.moves[k].Time.To - c.stands, seconds: c.stands}); got != c.clear {
			t.Errorf("%s: clear of the wander %v", c.name, got)
		}
	}
}
