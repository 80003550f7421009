package signal

import (
	"fmt"
	"strings"
	"testing"
)

// Of the figures that a row tells of each channel the mean is read; without one it is
// asked.
func TestFiguresBesideReadings(t *testing.T) {
	file := func(head string) string {
		var b strings.Builder
		b.WriteString(head + "\n")
		i := 0
		strokes(func(_ int, d, v float64) {
			fmt.Fprintf(&b, "%.2f,%.2f,%.2f,%.2f,%.3f,%.3f,%.3f\n", float64(i)*0.02, 12*d, 12*d-0.1, 12*d+0.1, v, v-0.004, v+0.004)
			i++
		})
		return b.String()
	}
	for _, head := range []string{
		"t (s),Motor avg (V),Motor min (V),Motor max (V),Wiper avg (V),Wiper min (V),Wiper max (V)",
		"t (s),Motor (V),Motor min (V),Motor max (V),Wiper (V),Wiper min (V),Wiper max (V)",
		"t (s),Mean motor,Min motor,Max motor,Mean wiper,Min wiper,Max wiper",
	} {
		c := mustRead(t, file(head), Options{}).Columns
		if c[1].Role != Drive || c[4].Role != Feedback || c[2].Role != Unused || c[6].Role != Unused {
			t.Errorf("%s: %v %v %v %v", head, c[1].Role, c[2].Role, c[4].Role, c[6].Role)
		}
	}
	if _, err := Read(strings.NewReader(file("t (s),Motor x (V),Motor min (V),Motor max (V),Wiper (V),a,b")), Options{}); err == nil {
		t.Error("a smallest and a largest of nothing are not asked about")
	}
}
