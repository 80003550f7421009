package analyze

import "testing"

// What goes most of its way again and again with no drive to be seen is driven by what was
// not logged: nothing is stated. Moved by a hand once, the rest of the capture counts.
func TestTravelsWithNoDriveSeen(t *testing.T) {
	t.Parallel()
	draw := func(unseen int) *draft {
		d := newDraft(4)
		d.read = func(d *draft) float64 { // a worn place, for something to state
			if d.x > 2.5 && d.x < 2.8 {
				return d.x + 0.12*d.rng.NormFloat64()
			}
			return d.x
		}
		d.run(0, 1)
		for i := range 8 {
			a := len(d.drive)
			d.run([]float64{12, -12}[i%2], 5) // as far as the stop
			if i >= 4 && i < 4+unseen {
				clear(d.drive[a:])
			}
			d.run([]float64{12, -12}[i%2], 1).run(0, 1)
		}
		return d
	}
	for unseen, stated := range map[int]bool{0: true, 1: true, 4: false} {
		c, v := look(t, draw(unseen))
		if (v.Conclusion != CannotTell) != stated {
			t.Errorf("%d unseen: %s", unseen, say(c, v))
		}
		if !stated && (!contains(v.Summary, "no drive to be seen") || v.Part != CannotTell.Part() || v.Next[0].Name != checkClips().Name) {
			t.Errorf("%d unseen: %q, part %s, next %q", unseen, v.Summary, v.Part, namesOf(v))
		}
	}
}
