package signal

import (
	"fmt"
	"strings"
	"testing"
)

// No converter's full scale is as small as a few counts.
func TestFullScaleOfCounts(t *testing.T) {
	for top, want := range map[float64]float64{1: 255, 4.9: 255, 12: 255, 98: 255, 256: 255, 257: 1023, 1000: 1023, 2700: 4095, 5000: 16383, 40000: 65535, 1e5: 131071} {
		if got := FullCounts(top); got != want {
			t.Errorf("counts up to %v: full scale %v, want %v", top, got, want)
		}
	}
}

// countTable writes a drive and a wiper that goes to and fro between two counts.
func countTable(head string, low, high float64) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	for i := range 800 {
		drive, share := 0.0, 0.0
		switch k := i % 400; {
		case k >= 300:
			drive, share = -12, float64(400-k)/100
		case k >= 200:
			share = 1
		case k >= 100:
			drive, share = 12, float64(k-100)/100
		}
		fmt.Fprintf(&b, "%.2f,%g,%.0f\n", float64(i)*0.02, drive, low+share*(high-low))
	}
	return b.String()
}

// A factor for a feedback in counts makes what it makes of the whole converter.
func TestFactorForAFeedbackInCounts(t *testing.T) {
	const head = "Time (s),Motor (V),Wiper (counts)"
	for _, tt := range []struct {
		what            string
		low, high, each float64
		unit            string
	}{
		{"10 bits of 5 V", 150, 880, 5. / 1023, "V"},
		{"10 bits of 5 V, readings that 8 bits would hold", 40, 230, 5. / 1023, "V"},
		{"12 bits of 3.3 V", 600, 3500, 3.3 / 4095, "V"},
		{"10 bits of a 20 V channel", 40, 230, 20. / 1023, "V"},
		{"10 bits as percent", 150, 880, 100. / 1023, "%"},
		{"8 bits as percent, rounded", 40, 230, 0.39, "%"},
		{"a sign", 150, 880, -1, "counts"},
		{"as written", 40, 55, 1, "counts"},
		{"a share of the supply", 150, 880, 1. / 1023, "counts"},
	} {
		tr, err := Read(strings.NewReader(countTable(head, tt.low, tt.high)), Options{Scale: map[Role]float64{Feedback: tt.each}})
		if err != nil {
			t.Fatal(err)
		}
		if tr.Feedback.Unit != tt.unit {
			t.Errorf("%s: in %q, want %q", tt.what, tr.Feedback.Unit, tt.unit)
		}
	}
}

// A column named after its converter is in its counts where the numbers are whole, and in
// volts where they are not.
func TestColumnNamedAfterAConverter(t *testing.T) {
	const head = "Time (s),Motor (V),adc2"
	whole := countTable(head, 8, 52)
	parts := head + strings.ReplaceAll(strings.TrimPrefix(countTable(head, 0, 4), head), "\n", ".25\n")
	parts = strings.Replace(parts, ".25", "", 1)
	for _, tt := range []struct{ unit, file string }{{"counts", whole}, {"V", parts}} {
		tr, err := Read(strings.NewReader(tt.file), Options{Roles: map[Role]string{Feedback: "adc2"}})
		if err != nil {
			t.Fatal(err)
		}
		if tr.Feedback.Unit != tt.unit {
			t.Errorf("in %q, want %q", tr.Feedback.Unit, tt.unit)
		}
	}
}
