package analyze

import (
	"slices"
	"testing"
)

// Beside a place at which the shaft stands and goes on, "no stall" reads as its denial.
func TestNoStallBesideAStand(t *testing.T) {
	t.Parallel()
	c := &Capture{Source: "x", Absent: []Absence{{Jam, absentJam}, {Hunting, "no hunting"}}, Findings: []Finding{{Kind: SlowZone, Weights: []float64{-5, -4, -3, 0, -5}}}}
	if v := Judge(c).Verdict; !slices.Contains(v.Absent, absentJam) {
		t.Errorf("slow only: %q", v.Absent)
	}
	c.Findings[0].Form = standsAndGoes
	if v := Judge(c).Verdict; slices.Contains(v.Absent, absentJam) || !slices.Contains(v.Absent, "no hunting") {
		t.Errorf("stands: %q", v.Absent)
	}
}
