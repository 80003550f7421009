package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Drive and feedback taken for each other must not become a verdict.
func TestSwappedColumnsAreRefused(t *testing.T) {
	code, out, errs := call("", "check", "--drive", "3", "--feedback", "2", demo)
	if code != exitUsage || out != "" {
		t.Fatalf("ended with %d, printed %q", code, out)
	}
	if !strings.Contains(errs, "--drive 2 --feedback 3") {
		t.Errorf("said %q, expected the corrected flags", errs)
	}
}

// A lead and the feedback taken for each other are refused alike.
func TestSwappedLeadIsRefused(t *testing.T) {
	var text strings.Builder
	text.WriteString("time,lead A,lead B,feedback\n")
	for i := range 3000 {
		s := float64(i) / 50
		v, a, b := 2.5-2*math.Cos(s/3), 0.0, 0.0
		if math.Sin(s/3) > 0 {
			a = 12
		} else {
			b = 12
		}
		fmt.Fprintf(&text, "%.2f,%.2f,%.3f,%.2f\n", s, a, v, b)
	}
	code, out, errs := call(text.String(), "check", "-")
	if code != exitUsage || out != "" || !strings.Contains(errs, "columns 2 and 3") || !strings.Contains(errs, "--lead-a, --lead-b and --feedback") {
		t.Errorf("ended with %d, printed %q, said %q", code, out, errs)
	}
}

// The same file twice is no second piece of evidence.
func TestOneFileTwice(t *testing.T) {
	for _, args := range [][]string{{"check", demo, demo}, {"check", demo, "--free", demo}} {
		if code, _, errs := call("", args...); code != exitUsage || !strings.Contains(errs, "twice") {
			t.Errorf("%v ended with %d, said %q", args, code, errs)
		}
	}
}

// A file where a command is expected gets the corrected command.
func TestFileInsteadOfCommand(t *testing.T) {
	p := filepath.Join(t.TempDir(), "c.csv")
	if err := os.WriteFile(p, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := call("", p); code != exitUsage || !strings.Contains(errs, "threewire check "+p) {
		t.Errorf("ended with %d, said %q", code, errs)
	}
}

// Header words hold where a soft or pulsed drive glides and a bad wiper
// jumps: neither proves that the two were taken for each other.
func TestGlidingDriveAndJumpingWiperAreNotSwapped(t *testing.T) {
	for _, c := range []struct {
		name, head string
		row        func(s, d, v float64, bad bool) string
	}{
		{"one way", "time,drive,feedback", func(s, d, v float64, bad bool) string {
			return fmt.Sprintf("%.2f,%.2f,%.3f", s, max(0, d), lost(bad))
		}},
		{"both ways", "time,motor (V),wiper (V)", func(s, d, v float64, bad bool) string {
			return fmt.Sprintf("%.2f,%.2f,%.3f", s, d, lost(bad))
		}},
		{"leads", "time,lead A,lead B,feedback", func(s, d, v float64, bad bool) string {
			return fmt.Sprintf("%.2f,%.2f,%.2f,%.3f", s, max(0, d), max(0, -d), lost(bad))
		}},
		{"shorted to the supply", "time,lead A,lead B,feedback", func(s, d, v float64, bad bool) string {
			if bad {
				v = 12.4
			}
			return fmt.Sprintf("%.2f,%.2f,%.2f,%.3f", s, max(0, d), max(0, -d), v)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var text strings.Builder
			text.WriteString(c.head + "\n")
			for i := range 4000 {
				s := float64(i) / 50
				text.WriteString(c.row(s, 12.3*math.Sin(s/3), 2.5-1.9*math.Cos(s/3), i/40%3 == 0) + "\n")
			}
			code, out, errs := call(text.String(), "check", "-")
			if code == exitUsage || strings.Contains(errs, "swapped") || !strings.Contains(out, "the header says") {
				t.Errorf("ended with %d, said %q", code, errs)
			}
		})
	}
}

// lost is a wiper that jumps between the rails.
func lost(bad bool) float64 {
	if bad {
		return 0.01
	}
	return 4.7
}
