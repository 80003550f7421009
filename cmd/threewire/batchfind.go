package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// found is one path of a batch. err is set when it is known beforehand that
// nothing can be read from it; it becomes a row all the same.
type found struct {
	path string
	err  error
}

// finder collects captures from arguments.
type finder struct {
	skip   []fs.FileInfo // the batch's own output
	paths  map[string]error
	whole  map[string]bool // the same from the root: a relative and a whole path may be one file
	named  int             // captures named so far, one named twice counting twice
	dirs   []fs.FileInfo   // folders entered, so that links cannot lead in circles
	empty  []string        // arguments that held no capture
	other  []string        // files that are no captures, and what they are
	sheets map[string]bool // answer sheets of simulate
}

// find expands the arguments: files as they are, folders with all below them,
// patterns, and "-" for a list on stdin. The result is sorted and holds no
// path twice. own are files that are never captures; other says which files were found
// that are none, see [noCapture].
func find(args []string, stdin io.Reader, null bool, own []string) (list []found, empty, other []string, err error) {
	f := &finder{paths: map[string]error{}, whole: map[string]bool{}, sheets: map[string]bool{}}
	for _, p := range own {
		if st, err := os.Stat(p); err == nil {
			f.skip = append(f.skip, st)
		}
	}
	// Sorted, so that the order of the arguments cannot choose under which
	// of two names a linked folder is entered.
	for _, a := range slices.Sorted(slices.Values(args)) {
		if a != "-" {
			f.argument(a, true)
			continue
		}
		names, err := readList(stdin, null)
		if err != nil {
			return nil, nil, nil, fmt.Errorf("cannot read the list on standard input: %w", err)
		}
		slices.Sort(names)
		for _, n := range names {
			f.argument(n, false)
		}
	}
	for p, err := range f.paths {
		list = append(list, found{p, err})
	}
	slices.SortFunc(list, func(a, b found) int { return strings.Compare(a.path, b.path) })
	if n := len(f.sheets); n > 0 {
		f.other = append(f.other, plural(n, "answer sheet")+" of simulate")
	}
	return list, f.empty, f.other, nil
}

// readList splits a list at line ends, or at NUL bytes.
func readList(r io.Reader, null bool) ([]string, error) {
	sep := byte('\n')
	if null {
		sep = 0
	}
	b, err := io.ReadAll(bufio.NewReader(r))
	if err != nil {
		return nil, err
	}
	if err := wrongEnds(b, null); err != nil {
		return nil, err
	}
	var names []string
	for _, n := range bytes.Split(b, []byte{sep}) {
		if !null {
			n = bytes.TrimSuffix(n, []byte("\r"))
		}
		if len(n) > 0 {
			names = append(names, string(n))
		}
	}
	return names, nil
}

// wrongEnds refuses a list that is separated otherwise than was said: it would be one
// odd name. No name holds a NUL; one with line ends is rare and then a file.
func wrongEnds(list []byte, null bool) error {
	nul := bytes.IndexByte(list, 0) >= 0
	switch {
	case nul && !null:
		return errors.New("it is separated by NUL bytes: add --null")
	case null && !nul && bytes.IndexByte(list, '\n') >= 0:
		if _, err := os.Stat(string(list)); err != nil {
			return errors.New("it has line ends and no NUL byte: leave --null out, or separate the names by NUL bytes (find -print0)")
		}
	}
	return nil
}

// argument adds what one argument names. A name from a list is never a
// pattern: the list says what it means.
func (f *finder) argument(a string, pattern bool) {
	before := f.named
	st, err := os.Stat(a)
	switch {
	case err == nil && st.IsDir():
		f.folder(filepath.Clean(a), st)
	case err == nil:
		f.add(filepath.Clean(a), st, nil)
	case pattern && errors.Is(err, fs.ErrNotExist) && strings.ContainsAny(a, "*?["):
		matches, err := filepath.Glob(a)
		if err != nil {
			f.add(a, nil, fmt.Errorf("pattern %s: %w", a, err))
			return
		}
		for _, m := range matches {
			f.argument(m, false)
		}
	default:
		f.add(filepath.Clean(a), nil, err)
	}
	if f.named == before && pattern {
		f.empty = append(f.empty, a)
	}
}

// add adds a path unless it is the batch's own output.
func (f *finder) add(path string, st fs.FileInfo, err error) {
	if st != nil {
		for _, s := range f.skip {
			if os.SameFile(s, st) {
				return
			}
		}
		if !st.Mode().IsRegular() {
			err = fmt.Errorf("%s is no regular file (%s): batch reads files only", plainText(path), st.Mode().Type())
		} else if what := noCapture(path); what == answerSheet {
			f.sheets[filepath.Clean(path)] = true
			return
		} else if what != "" {
			if text := fmt.Sprintf("%s (%s)", plainText(path), what); !slices.Contains(f.other, text) {
				f.other = append(f.other, text)
			}
			return
		}
	}
	f.named++
	whole, e := filepath.Abs(path)
	if e != nil {
		whole = path
	}
	if !f.whole[whole] {
		f.whole[whole], f.paths[path] = true, err
	}
}

// folder adds all captures below a folder. Linked folders are followed, each
// folder is entered once.
func (f *finder) folder(dir string, st fs.FileInfo) {
	for _, d := range f.dirs {
		if os.SameFile(d, st) {
			return
		}
	}
	f.dirs = append(f.dirs, st)
	entries, err := os.ReadDir(dir) // sorted
	if err != nil {
		f.add(dir, nil, err)
	}
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if e.Type().IsRegular() && !isCaptureName(e.Name()) {
			continue
		}
		st, err := os.Stat(path)
		switch {
		case err == nil && st.IsDir():
			if !strings.HasPrefix(e.Name(), ".") {
				f.folder(path, st)
			}
		case isCaptureName(e.Name()):
			f.add(path, st, err)
		}
	}
}
