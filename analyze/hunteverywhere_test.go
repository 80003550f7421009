package analyze

import "testing"

// A control that hunts about every place it goes to, while the reading follows at once,
// hunts by itself. About one place only the place may be at fault, and where play delays
// the answer, the play.
func TestHuntsWhereverItIsSent(t *testing.T) {
	t.Parallel()
	tour := func(d *draft, n int, at ...float64) *draft {
		d.run(0, 1)
		for _, x := range at {
			d.goTo(x).hunts(n)
		}
		return d
	}
	// Turned over in less time than a single move needs to show its answer.
	quick := func(d *draft, at ...float64) *draft {
		d.run(0, 1)
		for _, x := range at {
			d.goTo(x)
			for range 15 {
				d.run(-12, 0.13).run(12, 0.13)
			}
			d.run(0, 0.5)
		}
		return d
	}
	for _, c := range []struct {
		name  string
		drawn func(seed uint64) *draft
		want  map[Fault]bool
	}{
		{"two places", func(s uint64) *draft { return tour(newDraft(s).sweeps(1), 7, 1.5, 3) }, map[Fault]bool{WiringControl: true}},
		{"three places, no stop seen", func(s uint64) *draft {
			d := newDraft(s)
			d.x = 2
			return tour(d, 8, 2.2, 3, 2.5)
		}, map[Fault]bool{WiringControl: true}},
		{"one place, as evenly as a clock", func(s uint64) *draft { return tour(newDraft(s).sweeps(1), 9, 2.5) }, map[Fault]bool{WiringControl: true}},
		{"a few times at one place", func(s uint64) *draft { return tour(newDraft(s).sweeps(1), 3, 2.5) }, map[Fault]bool{CannotTell: true, NoFault: true}},
		{"with play", func(s uint64) *draft { return tour(newDraft(s).played(0.16), 8, 1.5, 3) }, map[Fault]bool{Motor: true, CannotTell: true}},
		{"quickly, two places", func(s uint64) *draft { return quick(newDraft(s).sweeps(1), 0.9, 3) }, map[Fault]bool{WiringControl: true}},
		{"quickly, with play", func(s uint64) *draft { return quick(newDraft(s).played(0.16).sweeps(1), 0.9, 3) }, map[Fault]bool{Motor: true, CannotTell: true, NoFault: true}},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.drawn(seed))
			if !c.want[v.Conclusion] {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
