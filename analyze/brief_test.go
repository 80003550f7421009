package analyze

import (
	"strings"
	"testing"
)

// What is shorter than any way of an actuator is told so, and no cause is said to fit.
func TestTooBriefIsSaid(t *testing.T) {
	brief := &Capture{Duration: 0.28, Findings: []Finding{{Kind: NoDrive, Weights: make([]float64, faultCount)}}}
	if s := tooBrief([]*Capture{brief}); !strings.Contains(s, "too short to judge: it lasts 280 ms") {
		t.Errorf("told %q", s)
	}
	long := &Capture{Duration: 30, Findings: brief.Findings}
	if s := tooBrief([]*Capture{brief, long}); s != "" {
		t.Errorf("of a long capture too: %q", s)
	}
	r := &Report{Verdict: Verdict{Conclusion: CannotTell}, Captures: []*Capture{long}}
	if !r.NothingSeen() {
		t.Error("a motor never driven shows something")
	}
	long.Findings = []Finding{{Kind: Jam}}
	if r.NothingSeen() {
		t.Error("a jam shows nothing")
	}
}
