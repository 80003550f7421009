package signal

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

func TestPackedClock(t *testing.T) {
	at := time.Date(2023, 4, 13, 14, 3, 40, 0, time.UTC)
	ms := func(layout string) func(int) string {
		return func(i int) string {
			return strings.Replace(at.Add(time.Duration(i)*20*time.Millisecond).Format(layout), "_", "", 1)
		}
	}
	glued := func(layout string) func(int) string {
		return func(i int) string {
			return strings.Replace(at.Add(time.Duration(i)*20*time.Millisecond).Format(layout), ".", "", 1)
		}
	}
	early := func(i int) string {
		return at.Add(-4*time.Hour - 4*time.Minute).Add(time.Duration(i) * 20 * time.Millisecond).Format("150405.000")
	}
	for _, c := range []struct {
		name string
		row  func(int) string
		want float64 // s of 2000 rows
	}{
		{"UTC hhmmss.sss", ms("150405.000"), 39.98},
		{"Stamp", ms("20060102150405.000"), 39.98},
		{"Stamp", glued("20060102150405.000"), 39.98},
		{"Time", glued("150405.000"), 39.98},
		{"Time", ms("150405.000"), 39.98},
		{"Clock", early, 39.98},
		// Days since 1900.
		{"Datum Uhrzeit", func(i int) string { return fmt.Sprintf("%.10f", 45029.58547+0.02*float64(i)/day) }, 39.98},
		// Seconds, and milliseconds, since the instrument was switched on.
		{"Time", func(i int) string { return fmt.Sprintf("%.2f", 140340+0.02*float64(i)) }, 39.98},
		{"Timestamp", func(i int) string { return fmt.Sprint(140340000 + 20*i) }, 39.98},
		{"Time (s)", func(i int) string { return fmt.Sprintf("%.2f", 140310+0.02*float64(i)) }, 39.98},
	} {
		var b strings.Builder
		b.WriteString(c.name + ",Motor (V),Feedback (V)\n")
		for i := range 2000 {
			d, w := drawnAt(0.02 * float64(i))
			fmt.Fprintf(&b, "%s,%.2f,%.4f\n", c.row(i), d, w)
		}
		tr, err := Read(strings.NewReader(b.String()), Options{})
		if err != nil {
			t.Errorf("%s %s: %v", c.name, c.row(0), err)
			continue
		}
		if got := tr.Time[len(tr.Time)-1] - tr.Time[0]; got < c.want-0.01 || got > c.want+0.01 {
			t.Errorf("%s %s: the capture takes %g s, want %g", c.name, c.row(0), got, c.want)
		}
	}
}
