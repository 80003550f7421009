package signal

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// datedFrom writes n rows of a capture with stamps in a layout of package time.
func datedFrom(start time.Time, n int, layout string) string {
	var b strings.Builder
	b.WriteString("Timestamp,Motor (V),Feedback (V)\n")
	for i := range n {
		d, w := drawnAt(0.02 * float64(i))
		fmt.Fprintf(&b, "%s,%.2f,%.4f\n", start.Add(time.Duration(i)*20*time.Millisecond).Format(layout), d, w)
	}
	return b.String()
}

func TestDatesOverMidnight(t *testing.T) {
	at := func(day, month int) time.Time {
		return time.Date(2023, time.Month(month), day, 23, 59, 40, 0, time.UTC)
	}
	const dayFirst, monthFirst = "02/01/2006 15:04:05.000", "01/02/2006 15:04:05.000"
	for _, c := range []struct {
		name, layout string
		start        time.Time
		rows         int
		want         string // day of the start
	}{
		{"day first", dayFirst, at(3, 4), 2000, "2023-04-03"},
		{"month first", monthFirst, at(3, 4), 2000, "2023-04-03"},
		{"day first, short year", "02/01/06 15:04:05.000", at(3, 4), 2000, "2023-04-03"},
		{"split by points", "02.01.2006 15:04:05.000", at(3, 4), 2000, "2023-04-03"},
		{"into the thirteenth", dayFirst, at(12, 4), 2000, "2023-04-12"},
		{"end of a month", dayFirst, at(30, 4), 2000, "2023-04-30"},
		// Midnight behind the head of the file: the order is not known from it, the
		// start is read by custom, and there is still no hole.
		{"late, day first", dayFirst, at(3, 4).Add(-10 * time.Minute), 40000, "2023-03-04"},
		{"late, into the thirteenth", dayFirst, at(12, 4).Add(-10 * time.Minute), 40000, "2023-12-04"},
		{"late, month first", monthFirst, at(3, 4).Add(-10 * time.Minute), 40000, "2023-04-03"},
	} {
		tr, err := Read(strings.NewReader(datedFrom(c.start, c.rows, c.layout)), Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got, want := tr.Time[len(tr.Time)-1], 0.02*float64(c.rows-1); got > want+0.1 || got < want-0.1 {
			t.Errorf("%s: the capture takes %g s, want %g", c.name, got, want)
		}
		if got := tr.Start.Format(time.DateOnly); got != c.want {
			t.Errorf("%s: begins on %s, want %s", c.name, got, c.want)
		}
	}
}
