package signal

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// strokesOf writes so many rows under a head, of strokes up and down with a rest after each:
// row makes each of the time in s, the volts of both leads and what the wiper reads.
func strokesOf(n int, volts float64, wiper func(i int, f float64) float64) func(head string, row func(s, a, b, f float64) string) string {
	return func(head string, row func(s, a, b, f float64) string) string {
		var text strings.Builder
		text.WriteString(head + "\n")
		f := 0.5
		for i := range n {
			a, b := 0.02, 0.01
			switch k := i % 1400; {
			case k > 100 && k < 600:
				a, f = volts+0.03*float64(i%3), f+0.008
			case k > 750 && k < 1250:
				b, f = volts+0.03*float64(i%3), f-0.008
			}
			text.WriteString(row(float64(i)/100, a, b, wiper(i, f)+0.003*float64(i%3)) + "\n")
		}
		return text.String()
	}
}

// A lead's clip and the wiper's that were changed over: one lead glides within a wiper's
// range, the feedback switches with a lead's volts. One sweep each way is enough, and two
// good leads are left alone.
func TestLeadExchangedForWiper(t *testing.T) {
	rows := strokesOf(1400, 10, func(_ int, f float64) float64 { return f })
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

// The same with a track so worn that its wiper leaps and does not glide: plain by the
// volts. A feedback that a wire at the battery makes switch is none of a lead's, and a lead
// read through a probe of 10:1 is none of a wiper's.
func TestWornWiperExchanged(t *testing.T) {
	rows := strokesOf(6000, 12, func(i int, f float64) float64 {
		if f > 2 && f < 3.2 && i%7 < 3 { // lifts off
			return 0.3
		}
		return f
	})
	leads, drive := "time (s),lead A (V),lead B (V),feedback (V)", "time (s),drive (V),feedback (V)"
	for _, c := range []struct {
		name string
		text string
		want bool
	}{
		{"good", rows(leads, func(s, a, b, f float64) string { return fmt.Sprintf("%.2f,%.3f,%.3f,%.4f", s, a, b, f) }), false},
		{"lead B", rows(leads, func(s, a, b, f float64) string { return fmt.Sprintf("%.2f,%.3f,%.4f,%.3f", s, a, f, b) }), true},
		{"drive", rows(drive, func(s, a, b, f float64) string { return fmt.Sprintf("%.2f,%.4f,%.3f", s, f, a-b) }), true},
		{"feedback at the battery, probes of 10:1", rows(leads, func(s, a, b, f float64) string {
			high := 0.01
			if int(s)%6 < 2 {
				high = 12.4
			}
			return fmt.Sprintf("%.2f,%.3f,%.4f,%.3f", s, a/10, b/10, high)
		}), false},
		{"feedback at the battery", rows(leads, func(s, a, b, f float64) string {
			high := 0.01
			if int(s)%6 < 2 {
				high = 12.4
			}
			return fmt.Sprintf("%.2f,%.3f,%.4f,%.3f", s, a, b, high)
		}), false},
	} {
		tr := mustRead(t, c.text, Options{})
		got := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == "swapped" })
		if got != c.want {
			t.Errorf("%s: swapped %v, want %v: %v", c.name, got, c.want, tr.Notes)
		}
	}
}
