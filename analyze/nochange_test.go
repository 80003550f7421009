package analyze

import (
	"strings"
	"testing"
)

// A reading that does not change is told without a figure of nothing.
func TestNoChangeHasNoFigure(t *testing.T) {
	for change, want := range map[float64]string{0: "the reading did not change.", 0.0001: "the reading did not change.", 0.004: "no more than 0.004 V."} {
		f := &Finding{Kind: NoMotion, Measures: []Measure{{"driven", 16, "s"}, {"largest change of feedback", change, "V"}}}
		if got := f.titleNoMotion(told{unit: "V"}); !strings.HasSuffix(got, want) {
			t.Errorf("%g V: %q", change, got)
		}
	}
}
