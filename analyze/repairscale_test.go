package analyze

import (
	"strings"
	"testing"
)

// A smaller span after a repair that takes as long is another scale of the reading, and no
// obstacle, whose way takes less time; in proportion about 0 V it is the feed. (Drawn.)
func TestRepairThatLeavesAnotherScale(t *testing.T) {
	t.Parallel()
	drive := func(seed uint64, scale float64, block func(d *draft, dir float64) bool) *Capture {
		d := newDraft(seed)
		d.lo, d.x, d.block = 1, 1, block
		d.read = func(d *draft) float64 { return scale * d.x }
		return examined(t, d.sweeps(3), false)
	}
	worn := newDraft(1)
	worn.lo, worn.x = 1, 1
	worn.read = func(d *draft) float64 {
		if d.x > 2.2 && d.x < 2.6 {
			return d.x + 0.3*d.rng.NormFloat64()
		}
		return d.x
	}
	before := examined(t, worn.sweeps(3), false)
	for _, c := range []struct {
		name  string
		after *Capture
		news  Kind
		want  Fault
	}{
		{"scaled", drive(2, 0.6, nil), SpanShift, WiringControl},
		{"obstacle", drive(3, 1, func(d *draft, dir float64) bool { return dir > 0 && d.x > 3 }), Jam, DoorMechanism},
		{"alike", drive(4, 1, nil), "", NoFault},
	} {
		r := (Case{Before: []*Capture{before}, Now: []*Capture{c.after}}).Judge()
		if c.news == "" && len(r.Repair.New) > 0 || c.news != "" && (len(r.Repair.New) != 1 || r.Repair.New[0].Finding != c.news) {
			t.Errorf("%s: new %+v, expected %q", c.name, r.Repair.New, c.news)
		}
		for f := NoFault; f < faultCount; f++ {
			if f != c.want && chanceOf(r, f) >= chanceOf(r, c.want) {
				t.Errorf("%s: %s %.2f, %s %.2f", c.name, c.want, chanceOf(r, c.want), f, chanceOf(r, f))
			}
		}
	}
	// A scale that is back is something gone.
	r := ProveRepair([]*Capture{drive(5, 0.6, nil)}, []*Capture{drive(6, 1, nil)})
	if len(r.Findings) == 0 || !strings.Contains(r.Findings[len(r.Findings)-1].Text, "of the span that it reads now") || len(r.New) > 0 {
		t.Errorf("back: %s %+v", r.Text, r.Findings)
	}
}

// What a reading did from a bad place on is not gone where the shaft has not been there since.
func TestNotThereSinceTheRepair(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		after int // passes over the place
		want  string
	}{{0, "could not show"}, {6, "gone"}} {
		r := &Repair{Findings: []Repaired{
			{Finding: LastingLeap, State: "gone", Seen: 40, Of: 50, After: 8, Missed: 0.0001, group: 1},
			{Finding: DeadSpot, State: "not seen", Seen: 3, Of: 3, After: c.after, Missed: 0.2, group: 1, placed: true},
			{Finding: Heating, State: "gone", After: 9, group: 2},
		}}
		r.together()
		if got := r.Findings[0].State; got != c.want || r.Findings[2].State != "gone" {
			t.Errorf("%d passes after: %q, expected %q", c.after, got, c.want)
		}
	}
}
