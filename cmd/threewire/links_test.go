//go:build unix

// Where ordinary users may make no links there is nothing to test of them.

package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"
)

// A link leads to the file that is written, whether it was there or not.
func TestWriteFollowsLinks(t *testing.T) {
	for name, there := range map[string]bool{"there": true, "not there yet": false} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			real := filepath.Join(dir, "far", "real.txt")
			if err := os.MkdirAll(filepath.Join(dir, "far"), 0o755); err != nil {
				t.Fatal(err)
			}
			if there {
				os.WriteFile(real, []byte("old"), 0o600)
			}
			link := filepath.Join(dir, "link.txt")
			linkTo(t, "middle.txt", link)
			linkTo(t, "far/real.txt", filepath.Join(dir, "middle.txt"))
			if err := writeAtomic(link, true, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }); err != nil {
				t.Fatal(err)
			}
			if b, err := os.ReadFile(real); err != nil || string(b) != "new" {
				t.Errorf("%q, %v", b, err)
			}
			if to, err := os.Readlink(link); err != nil || to != "middle.txt" {
				t.Errorf("the link leads to %q (%v)", to, err)
			}
			only(t, filepath.Join(dir, "far"), "real.txt")
		})
	}
}

// A link to an output that is not there yet stays one.
func TestBatchOutFollowsADanglingLink(t *testing.T) {
	dir, n := shelf(t)
	at := t.TempDir()
	link, real := filepath.Join(at, "link.jsonl"), filepath.Join(at, "real.jsonl")
	linkTo(t, "real.jsonl", link)
	whole := filepath.Join(at, "whole.jsonl")
	mustBatch(t, dir, "--out", whole, "--quiet")
	mustBatch(t, "--merge", whole, "--out", link, "--quiet")
	if to, err := os.Readlink(link); err != nil || to != "real.jsonl" || len(readOut(t, real)) != n {
		t.Errorf("the link leads to %q (%v)", to, err)
	}
}

// A link stays one, and leads to the new capture.
func TestSimulateFollowsALink(t *testing.T) {
	dir := t.TempDir()
	link, real := filepath.Join(dir, "link.csv"), filepath.Join(dir, "real.csv")
	os.WriteFile(real, []byte("old"), 0o600)
	linkTo(t, "real.csv", link)
	if code, _, errs := runSimulate("--shape", "plain", "--duration", "5", "--instrument", "pocket-logger", "-o", link, "--force"); code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	if b, err := os.ReadFile(real); err != nil || len(b) < 100 {
		t.Errorf("%.40q, %v", b, err)
	}
}

// linkTo makes a symbolic link.
func linkTo(t *testing.T, to, at string) {
	t.Helper()
	if err := os.Symlink(to, at); err != nil {
		t.Fatal(err)
	}
}
