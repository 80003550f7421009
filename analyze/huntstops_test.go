package analyze

import (
	"math"
	"testing"
)

// A control that aims beyond both stops drives in, gives up, rests, steps back by its clock and
// tries again: no fault. One whose steps back keep no clock, an obstacle at which it tries so
// at one end, and a track that is lost at one end are not excused by it.
func TestControlThatTriesBothStops(t *testing.T) {
	t.Parallel()
	// tries arrives at a stop, or at what blocks the way, and tries n times more.
	tries := func(d *draft, dir float64, n int, step func() float64) {
		d.run(12*dir, 7).run(0, 1.2)
		for range n {
			d.run(-12*dir, step()).run(0, 0.2).run(12*dir, 1.3).run(0, 1.2)
		}
		d.run(-12*dir, step()).run(0, 1)
	}
	clock := func(*draft) func() float64 { return func() float64 { return 0.3 } }
	for _, c := range []struct {
		name      string
		high, low int // tries
		step      func(d *draft) func() float64
		with      func(d *draft)
		tried     bool
	}{
		{"sound", 4, 4, clock, nil, true},
		{"sound, fewer at one", 6, 2, clock, nil, true},
		{"no clock", 4, 4, func(d *draft) func() float64 {
			return func() float64 { return 0.25 + 0.2*d.rng.Float64() }
		}, nil, false},
		{"obstacle at one", 6, 0, clock, func(d *draft) {
			d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > 3 }
		}, false},
		{"obstacle far inside, and tries of the other stop", 6, 4, clock, func(d *draft) {
			d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > 3 }
		}, false},
		{"track lost at one", 6, 4, clock, func(d *draft) {
			d.read = func(d *draft) float64 { return math.Min(d.x, 4) }
		}, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			if c.with != nil {
				c.with(d)
			}
			step := c.step(d)
			d.run(0, 1)
			tries(d, 1, c.high, step)
			tries(d, -1, c.low, step)
			d.run(12, 2).run(0, 2)
			got, v := look(t, d)
			f := finding(got, Hunting)
			if f == nil || f.has(triesBothStops) != c.tried || (v.Conclusion == NoFault) != c.tried {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
