package analyze

import "testing"

// A control that steps to and fro over little of the travel and rests, about each place it
// is sent to, found it: that alone is no fault of the wiring. One that goes on, or swings
// far, is lost.
func TestHuntingThatSettles(t *testing.T) {
	t.Parallel()
	tour := func(s uint64, n int, half float64) *draft {
		d := newDraft(s)
		d.rate = 0.4
		d.run(12, 11).run(0, 1).run(-12, 11).run(0, 3)
		for _, x := range []float64{3.4, 2.4, 1.2, 2.1, 3.4} {
			dir := 12.0
			if x < d.x {
				dir = -12
			}
			for (x-d.x)*dir > 0 {
				d.run(dir, d.dt)
			}
			for range n {
				d.run(-dir, half).run(dir, half)
			}
			d.run(0, 1.5)
		}
		return d.run(12, 3)
	}
	for _, c := range []struct {
		name          string
		n             int
		half          float64
		marked, wires bool
	}{
		{"a few small corrections", 3, 0.2, true, false},
		{"many", 12, 0.2, false, true},
		{"far", 3, 0.8, false, true},
	} {
		for seed := range uint64(3) {
			got, v := look(t, tour(seed, c.n, c.half))
			f := finding(got, Hunting)
			if f == nil || f.has(settlesInTheEnd) != c.marked || (v.Conclusion == WiringControl) != c.wires {
				t.Errorf("%s, seed %d: %s %+v", c.name, seed, say(got, v), f)
			}
		}
	}
}
