package signal

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// A lead's clip and the wiper's that were changed over: one lead glides within a wiper's
// range, the feedback switches with a lead's volts. One sweep each way is enough, and two
// good leads are left alone.
func TestLeadExchangedForWiper(t *testing.T) {
	rows := func(head string, row func(s, a, b, f float64) string) string {
		var text strings.Builder
		text.WriteString(head + "\n")
		f := 0.5
		for i := range 1400 {
			a, b := 0.02, 0.01
			switch {
			case i > 100 && i < 600:
				a, f = 10+0.03*float64(i%3), f+0.008
			case i > 750 && i < 1250:
				b, f = 10+0.03*float64(i%3), f-0.008
			}
			text.WriteString(row(float64(i)/100, a, b, f+0.003*float64(i%3)) + "\n")
		}
		return text.String()
	}
	head := "time (s),lead A (V),lead B (V),feedback (V)"
	for _, c := range []struct {
		name string
		text string
		want bool
	}{
		{"good", rows(head, func(s, a, b, f float64) string { return fmt.Sprintf("%.2f,%.3f,%.3f,%.4f", s, a, b, f) }), false},
		{"lead A", rows(head, func(s, a, b, f float64) string { return fmt.Sprintf("%.2f,%.4f,%.3f,%.3f", s, f, b, a) }), true},
		{"lead B", rows(head, func(s, a, b, f float64) string { return fmt.Sprintf("%.2f,%.3f,%.4f,%.3f", s, a, f, b) }), true},
	} {
		tr := mustRead(t, c.text, Options{})
		got := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == "swapped" })
		if got != c.want {
			t.Errorf("%s: swapped %v, want %v: %v", c.name, got, c.want, tr.Notes)
		}
	}
}
