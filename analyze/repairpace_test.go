package analyze

import (
	"strings"
	"testing"
)

// What concerns speeds is proven gone by moves that show speeds only; a shaft that moves
// again is, however coarsely it was read. (Drawn.)
func TestRepairOfSpeeds(t *testing.T) {
	t.Parallel()
	slowUp := func(k float64) func(d *draft, dir float64) float64 {
		return func(_ *draft, dir float64) float64 {
			if dir > 0 {
				return k
			}
			return 1
		}
	}
	slowThere := func(d *draft, _ float64) float64 {
		if d.x > 2 && d.x < 2.5 {
			return 0.5
		}
		return 1
	}
	held := func(*draft, float64) float64 { return 0 }
	sweeps := func(speed func(*draft, float64) float64) *draft {
		d := newDraft(5)
		d.speed = speed
		return d.run(0, 1).run(12, 11).run(0, 0.5).run(-12, 6).run(0, 0.5).run(12, 11).run(0, 0.5).run(-12, 6).run(0, 0.5).
			run(12, 11).run(0, 0.5).run(-12, 6).run(0, 0.5).run(12, 11).run(0, 1)
	}
	nudges := func(speed func(*draft, float64) float64) *draft {
		d := newDraft(6)
		d.x, d.speed = 1, speed
		d.run(0, 1)
		for range 3 {
			for _, v := range []float64{12, -12} {
				for range 18 {
					d.run(v, 0.16).run(0, 0.4)
				}
			}
		}
		return d
	}
	coarse := func(d *draft) *draft { d.noise = 0.03; return d }
	for _, c := range []struct {
		name          string
		before, after *draft
		proven        bool
		why           string
	}{
		{"one way, step by step", sweeps(slowUp(0.4)), nudges(slowUp(0.4)), false, movesTooShort},
		{"one way, less", sweeps(slowUp(0.45)), sweeps(slowUp(0.55)), false, "times as long that way"},
		{"one way, gone", sweeps(slowUp(0.4)), sweeps(nil), true, ""},
		{"a place, step by step", sweeps(slowThere), nudges(slowThere), false, movesTooShort},
		{"a place, gone", sweeps(slowThere), sweeps(nil), true, ""},
	} {
		b, a := examineDraft(t, c.before), examineDraft(t, c.after)
		r := proveRepair([]*Capture{b}, []*Capture{a}, true)
		said := ""
		for _, f := range r.Findings {
			said += f.Because + "; "
		}
		if (r.Result == RepairProven) != c.proven || !strings.Contains(said, c.why) {
			t.Errorf("%s: %s, %s", c.name, r.Result, said)
		}
	}
	// What stood still before, driven as often.
	b := examineDraft(t, sweeps(held))
	for _, again := range []bool{true, false} {
		d := newDraft(7)
		d.speed = held
		if again {
			d.speed = nil
		}
		a := examineDraft(t, coarse(d).sweeps(6))
		if r := proveRepair([]*Capture{b}, []*Capture{a}, true); (r.Result == RepairProven) != again {
			t.Errorf("moves again %v: %s %s", again, r.Result, r.Text)
		}
	}
}
