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

// What the verdict hangs on of how the file was read stands right under it, once, and on
// the page too.
func TestDoubtBesideTheVerdict(t *testing.T) {
	s := startPage(t)
	t.Chdir(t.TempDir())
	writeStrokes(t, "tenth.csv", "time (s),drive (V),feedback (V)", func(s, d, v float64) string {
		return fmt.Sprintf("%.2f,%.3f,%.5f", s, d, v/10)
	})
	var out, errs bytes.Buffer
	if code := check(context.Background(), []string{"tenth.csv"}, nil, &out, &errs); code == 2 {
		t.Fatal(errs.String())
	}
	head, rest, _ := strings.Cut(out.String(), "\n\n")
	const doubt = "was it read through a probe of 10:1"
	if head = plainSpace(head); !strings.Contains(head, "In doubt: The whole travel of the feedback") || !strings.Contains(head, doubt) || strings.Contains(plainSpace(rest), doubt) {
		t.Errorf("the doubt is not said once, under the verdict:\n%s", out.String())
	}
	a := s.upload(field{"capture", "tenth.csv", readText(t, "tenth.csv")})
	saysAll(t, a.body, head)
}

// A feedback in counts is said to be taken as one of which converter.
func TestColumnsTellConverter(t *testing.T) {
	t.Chdir(t.TempDir())
	writeStrokes(t, "counts.csv", "time (s),drive (V),feedback (counts)", func(s, d, v float64) string {
		return fmt.Sprintf("%.2f,%.3f,%.0f", s, d, v/5*1023)
	})
	writeStrokes(t, "volts.csv", "time (s),drive (V),feedback (V)", func(s, d, v float64) string {
		return fmt.Sprintf("%.2f,%.3f,%.4f", s, d, v)
	})
	for name, want := range map[string]bool{"counts.csv": true, "volts.csv": false} {
		var out, errs bytes.Buffer
		if code := columns(context.Background(), []string{name}, nil, &out, &errs); code != 0 || strings.Contains(out.String(), "a check takes one of 10 bits, 0 to 1023") != want {
			t.Errorf("%s: %s%s", name, out.String(), errs.String())
		}
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
