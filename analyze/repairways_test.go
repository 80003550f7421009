package analyze

import (
	"strings"
	"testing"
)

// blockedFrom draws a door with an object that falls in at a time and stops what is driven up.
func blockedFrom(seed uint64, at float64) *draft {
	d := newDraft(seed)
	d.block = func(d *draft, dir float64) bool { return d.t > at && dir > 0 && d.x >= 3.1 }
	return d
}

// What stopped two drives up of four, with drives down that came past it, is proven gone by
// drives up: one more drive down changes nothing of the chance. (Drawn.)
func TestRepairCountsOneWayAlike(t *testing.T) {
	t.Parallel()
	before := func() *draft { return blockedFrom(1, 26).sweeps(4) }
	four := prove(t, before(), newDraft(2).sweeps(4))
	again := prove(t, before(), func() *draft { d := newDraft(2); d.x = 4.4; return d.run(0, 1).run(-12, 6).sweeps(4) }())
	if four.Result != RepairUnclear || len(four.Findings) != 1 || four.Findings[0].After != 4 || !strings.Contains(four.Findings[0].Because, "going up") {
		t.Errorf("four of each way: %s %+v", four.Result, four.Findings)
	}
	if again.Missed != four.Missed || again.Findings[0].Because != four.Findings[0].Because {
		t.Errorf("one more drive down makes %.3f of %.3f: %+v", again.Missed, four.Missed, again.Findings)
	}
	if r := prove(t, before(), newDraft(2).sweeps(8)); r.Result != RepairProven {
		t.Errorf("eight of each way: %s %s %+v", r.Result, r.Text, r.Findings)
	}
}

// Past the end of the travel no drive goes, and none is asked for. (Drawn.)
func TestRepairAsksForNothingBeyondAStop(t *testing.T) {
	t.Parallel()
	// An object at the high end falls in and goes; after the repair the travel ends there.
	before := func() *draft {
		d := newDraft(1)
		d.block = func(d *draft, dir float64) bool { return d.t > 10 && d.t < 24 && dir > 0 && d.x >= 4 }
		return d.sweeps(4)
	}
	after := newDraft(2)
	after.hi = 4
	r := prove(t, before(), after.sweeps(4))
	if f := ofKind(r, Jam); f == nil || strings.Contains(f.Because, " more ") || f.State == "gone" {
		t.Errorf("its end is where it stalled: %s %+v", r.Result, r.Findings)
	}
	r = prove(t, before(), newDraft(2).sweeps(15))
	if r.Result != RepairProven {
		t.Errorf("passed fifteen times: %s %s %+v", r.Result, r.Text, r.Findings)
	}
}

// ofKind is what became of the first finding of a kind; nil without one.
func ofKind(r *Repair, k Kind) *Repaired {
	for i := range r.Findings {
		if r.Findings[i].Finding == k {
			return &r.Findings[i]
		}
	}
	return nil
}
