package plots

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"threewire/analyze"
)

// The remarks of a recording stand in the picture and in the report, the first of them in words.
func TestRemarksArePictured(t *testing.T) {
	f := figure(t, cases()["healthy"])
	for i := range 12 {
		f.Capture.Remarks = append(f.Capture.Remarks, analyze.Remark{Time: 2 + 1.5*float64(i), Text: fmt.Sprintf("door turned %d times", 100+i)})
	}
	var buf bytes.Buffer
	if err := Draw(&buf, "svg", []Figure{f}, Options{}); err != nil {
		t.Fatal(err)
	}
	svg := buf.String()
	if !strings.Contains(svg, "“door turned 100 times”") || strings.Contains(svg, "turned 111") {
		t.Error("the first remarks are not in the picture, or too many are")
	}
	if w := testedWords(f.Capture, false); !strings.Contains(w, "Written beside it, at 2.0 s: “door turned 100 times”") || !strings.Contains(w, "and 9 more.") {
		t.Errorf("report: %s", w)
	}
	f.Capture.Remarks = nil
	if w := testedWords(f.Capture, false); strings.Contains(w, "Written") {
		t.Errorf("report: %s", w)
	}
}
