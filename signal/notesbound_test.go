package signal

import (
	"fmt"
	"strings"
	"testing"
)

// What happens again and again is counted, not told each time.
func TestNotesAreBounded(t *testing.T) {
	var s strings.Builder
	s.WriteString("time,drive,feedback\n")
	const parts = 300
	for k := range parts {
		for i := range 30 {
			fmt.Fprintf(&s, "%.2f,12,%.2f\n", 0.01*float64(i+1), 1+0.1*float64(i)+0.001*float64(k))
		}
	}
	tr := mustRead(t, s.String(), Options{})
	n, last := 0, ""
	for _, x := range tr.Notes {
		if x.Code == ClockRestarted {
			n++
			last = x.Text
		}
	}
	if want := fmt.Sprintf("and %d more like it", parts-1-n); n == 0 || n > mostAlike || !strings.Contains(last, want) {
		t.Errorf("%d notes, the last %q, want %q in it", n, last, want)
	}
	p := &plan{}
	for i := range 3 * mostAlike {
		p.note("one", "row %d", i)
		p.note("other", "the same")
	}
	if len(p.notes) != mostAlike+1 || !strings.HasSuffix(p.notes[len(p.notes)-1].Text, "(and 40 more like it)") {
		t.Errorf("%d notes, the last %q", len(p.notes), p.notes[len(p.notes)-1].Text)
	}
}
