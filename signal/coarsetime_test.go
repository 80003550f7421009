package signal

import (
	"fmt"
	"strings"
	"testing"
)

// timed writes 3000 rows with a time column of that name.
func timed(name string, row func(i int) string) string {
	var b strings.Builder
	b.WriteString(name + ",Motor (V),Feedback (V)\n")
	for i := range 3000 {
		d, w := drawnAt(0.02 * float64(i))
		fmt.Fprintf(&b, "%s,%.2f,%.4f\n", row(i), d, w)
	}
	return b.String()
}

func TestCoarseTimes(t *testing.T) {
	for _, c := range []struct {
		name, column string
		row          func(i int) string
		rate         float64
		want         float64 // s of all rows; 0 = refused for want of a time base
	}{
		{"times between rows, all alike", "Delta t (s)", func(i int) string { return "0.02" }, 0, 59.98},
		{"times between rows hold against a rate", "Delta t (s)", func(i int) string { return "0.02" }, 25, 59.98},
		{"times between rows, uneven", "dt (ms)", func(i int) string { return fmt.Sprint(10 + 20*(i%2)) }, 0, 59.98},
		{"rising times called dt", "dt (s)", func(i int) string { return fmt.Sprintf("%.2f", 0.02*float64(i)) }, 0, 59.98},
		{"minutes and seconds passing an hour", "Time", func(i int) string {
			x := 3540 + 0.02*float64(i)
			return fmt.Sprintf("%02d:%05.2f", int(x)/60%60, x-float64(int(x)/60*60))
		}, 0, 59.98},
		{"a clock that stands", "Time", func(i int) string { return "14:03" }, 0, 0},
		{"a clock that stands, with the rate", "Time", func(i int) string { return "14:03" }, 50, 59.98},
		{"good times hold against a rate", "Time (s)", func(i int) string { return fmt.Sprintf("%.2f", 0.02*float64(i)) }, 25, 59.98},
	} {
		tr, err := Read(strings.NewReader(timed(c.column, c.row)), Options{Rate: c.rate})
		if err != nil {
			if c.want > 0 || !strings.Contains(err.Error(), "--rate") {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if got := tr.Time[len(tr.Time)-1] - tr.Time[0]; c.want == 0 || got < c.want-0.05 || got > c.want+0.05 {
			t.Errorf("%s: the capture takes %g s, want %g", c.name, got, c.want)
		}
	}
}
