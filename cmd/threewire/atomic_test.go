package main

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// only fails where dir holds something else than the names given.
func only(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(names, " ") {
		t.Errorf("the folder holds %q, want %q", got, names)
	}
}

func TestWriteAtomic(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x")
	put := func(s string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
	}
	bad := errors.New("half way")
	half := func(w io.Writer) error { return errors.Join(put("half")(w), bad) }
	if err := writeAtomic(path, false, half); !errors.Is(err, bad) {
		t.Errorf("got %v, want the writer's error", err)
	}
	if _, err := os.Stat(path); !errors.Is(err, os.ErrNotExist) {
		t.Error("a failed write left a file")
	}
	if err := writeAtomic(path, false, put("one")); err != nil {
		t.Fatal(err)
	}
	if err := writeAtomic(path, false, put("two")); err == nil || !strings.Contains(err.Error(), "--force") {
		t.Errorf("got %v, want a refusal that names --force", err)
	}
	if err := writeAtomic(path, true, half); !errors.Is(err, bad) {
		t.Errorf("got %v, want the writer's error", err)
	}
	if got, _ := os.ReadFile(path); string(got) != "one" {
		t.Errorf("a failed write changed the file to %q", got)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := writeAtomic(path, true, put("three")); err != nil {
		t.Fatal(err)
	}
	st, err := os.Stat(path)
	if got, _ := os.ReadFile(path); err != nil || string(got) != "three" || st.Mode().Perm() != 0o600 {
		t.Errorf("got %q with mode %v, want three with the mode it had", got, st.Mode())
	}
}

// Targets are looked at before any work is done.
func TestCheckTarget(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.txt")
	os.WriteFile(path, nil, 0o600)
	for _, c := range []struct {
		path   string
		force  bool
		inputs []string
		want   string // part of the message; "" is fine
	}{
		{filepath.Join(dir, "new.txt"), false, nil, ""},
		{path, true, nil, ""},
		{path, false, nil, "exists"},
		{path, true, []string{"-", dir + "/./x.txt"}, "is one of the inputs"},
		{dir, true, nil, "is a directory"},
		{filepath.Join(dir, "gone", "x.txt"), true, nil, "cannot write " + filepath.Join(dir, "gone", "x.txt") + ": no such file"},
		{os.DevNull, false, nil, ""},
	} {
		err := checkTarget(c.path, c.force, c.inputs)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.path, err, c.want)
		}
	}
	only(t, dir, "x.txt")
}

// full is a place that takes nothing.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

// What could not be printed is said, by every command that prints.
func TestNothingPrinted(t *testing.T) {
	for _, args := range [][]string{
		{"check", demo}, {"check", "--brief", demo}, {"check", "--json", demo}, {"plan"}, {"plan", "--json"}, {"columns", demo},
		{"draw", demo, "--out", "-", "--format", "svg"}, {"profile", goodCapture, "--out", "-"}, {"simulate", "--list"},
	} {
		var errs strings.Builder
		if code := run(context.Background(), args, strings.NewReader(""), full{}, &errs); code != exitUsage || !strings.Contains(errs.String(), "no room") {
			t.Errorf("%v: exit %d, %q", args, code, errs.String())
		}
	}
}
