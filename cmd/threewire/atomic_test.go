package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func textInto(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

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
			if err := errors.Join(os.Symlink("middle.txt", link), os.Symlink("far/real.txt", filepath.Join(dir, "middle.txt"))); err != nil {
				t.Skip(err)
			}
			if err := writeAtomic(link, true, textInto("new")); err != nil {
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

// What fails leaves what was there, and nothing else.
func TestWriteFailsWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.txt")
	os.WriteFile(path, []byte("old"), 0o600)
	wrong := errors.New("no picture")
	err := writeAtomic(path, true, func(w io.Writer) error {
		io.WriteString(w, "half")
		return wrong
	})
	if !errors.Is(err, wrong) {
		t.Error(err)
	}
	if err := writeAtomic(path, false, textInto("new")); err == nil || !strings.Contains(err.Error(), "exists") {
		t.Error(err)
	}
	if b, _ := os.ReadFile(path); string(b) != "old" {
		t.Errorf("%q", b)
	}
	only(t, dir, "x.txt")
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

// The rights of a replaced file stay.
func TestWriteKeepsRights(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.txt")
	os.WriteFile(path, nil, 0o600)
	os.Chmod(path, 0o640)
	if err := writeAtomic(path, true, textInto("new")); err != nil {
		t.Fatal(err)
	}
	if st, err := os.Stat(path); err != nil || st.Mode().Perm() != fs.FileMode(0o640) {
		t.Errorf("%v, %v", st.Mode(), err)
	}
}
