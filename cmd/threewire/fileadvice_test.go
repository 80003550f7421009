package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What the system refuses in three words is said with what to do; what it says otherwise
// stays as it is, and stays what it was for who asks.
func TestRefusalsSayWhatToDo(t *testing.T) {
	at := func(e error) error { return &fs.PathError{Op: "open", Path: "x", Err: e} }
	for _, c := range []struct {
		err  error
		want string
	}{
		{toRead(at(syscall.EACCES)), "ask its owner"},
		{cannotWrite("r.pdf", at(syscall.EACCES)), "cannot write r.pdf: permission denied: name a place that you may write to"},
		{cannotWrite("r.pdf", at(syscall.ENOSPC)), "make room there"},
		{toWrite(at(syscall.EROFS)), "another disk"},
		{cannotWrite("none/r.pdf", at(syscall.ENOENT)), "make its folder first"},
	} {
		if !strings.Contains(c.err.Error(), c.want) || errors.Unwrap(c.err) == nil {
			t.Errorf("%v, want %q", c.err, c.want)
		}
	}
	other := errors.New("other")
	if toRead(other) != other || toWrite(other) != other {
		t.Error("another error was changed")
	}
}

// A batch whose output is full says how many rows it kept, if any.
func TestLostRowsAreCounted(t *testing.T) {
	file, err := os.Create(filepath.Join(t.TempDir(), "out.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for n, want := range map[int]string{0: "nothing was written yet", 1: "the row before it is kept", 3: "the 3 rows before it are kept"} {
		s := &rowStore{path: "out.jsonl", file: file, rows: map[string]*batchRow{}}
		for i := range n {
			s.rows[fmt.Sprint(i)] = &batchRow{}
		}
		if got := s.lost(syscall.ENOSPC).Error(); !strings.Contains(got, want) || !strings.Contains(got, "make room") {
			t.Errorf("%d rows: %q", n, got)
		}
	}
}
