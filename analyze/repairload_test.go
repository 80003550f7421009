package analyze

import "testing"

// A door that is hung on again drags and brings its stops back: the shorter way after it
// is no new jam. Without a door that came off it is one.
func TestDoorHungOnAgain(t *testing.T) {
	t.Parallel()
	for _, off := range []bool{true, false} {
		b := newDraft(1)
		b.speed = func(d *draft, _ float64) float64 {
			if off && d.t < 38.5 {
				return 0.7
			}
			return 1
		}
		b.run(0, 1)
		for range 2 {
			b.run(12, 9).run(0, 0.5).run(-12, 9).run(0, 0.5)
		}
		b.hi = 4.9
		for range 3 {
			b.run(12, 9).run(0, 0.5).run(-12, 9).run(0, 0.5)
		}
		a := newDraft(2)
		a.speed = func(*draft, float64) float64 { return 0.7 }
		a.run(0, 1)
		for range 4 {
			a.run(12, 9).run(0, 0.5).run(-12, 9).run(0, 0.5)
		}
		if !off { // the way was longer from the start
			b = newDraft(1)
			b.hi = 4.9
			b.sweeps(4)
		}
		before, after := examineDraft(t, b), examineDraft(t, a)
		if off != loadWasLost([]*Capture{before}) {
			t.Fatalf("door off %v: %v", off, before.Findings)
		}
		r := proveRepair([]*Capture{before}, []*Capture{after}, true)
		for _, n := range r.New {
			if off {
				t.Errorf("hung on again: new is %s", n.Text)
			}
		}
		if !off && len(r.New) == 0 {
			t.Error("a shorter way is nothing new")
		}
	}
}
