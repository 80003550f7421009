package main

import (
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
