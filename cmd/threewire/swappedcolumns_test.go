package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"strings"
	"testing"
)

// writeStrokes writes a capture of two sweeps each way, with what row makes of time, drive and
// feedback.
func writeStrokes(t *testing.T, name, head string, row func(s, d, v float64) string) {
	t.Helper()
	var b strings.Builder
	b.WriteString(head + "\n")
	v := 0.5
	for i := range 2000 {
		d := 0.0
		switch k := i % 1000; {
		case k >= 50 && k < 450:
			d, v = 12, v+0.01
		case k >= 550 && k < 950:
			d, v = -12, v-0.01
		}
		b.WriteString(row(float64(i)/50, d+0.01*float64(i%3), v+0.002*float64(i%3)) + "\n")
	}
	if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
}

// A lead and the feedback changed over are refused with the flags that put it right, and
// with these the capture is read.
func TestLeadAndFeedbackChangedOver(t *testing.T) {
	t.Chdir(t.TempDir())
	writeStrokes(t, "changed.csv", "time (s),lead A (V),feedback (V),lead B (V)", func(s, d, v float64) string {
		return fmt.Sprintf("%.2f,%.3f,%.3f,%.4f", s, max(d, 0), max(-d, 0), v)
	})
	var out, errs bytes.Buffer
	if code := check(context.Background(), []string{"changed.csv"}, nil, &out, &errs); code != 2 || !strings.Contains(errs.String(), "try --lead-a 2 --lead-b 3 --feedback 4") {
		t.Fatalf("code %d: %s%s", code, out.String(), errs.String())
	}
	errs.Reset()
	if code := check(context.Background(), []string{"--lead-a", "2", "--lead-b", "3", "--feedback", "4", "changed.csv"}, nil, &out, &errs); code == 2 {
		t.Errorf("with the flags: %s", errs.String())
	}
}
