package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
)

// syncRows is after how many rows the output is forced to the disk: a power
// cut costs at most the work on so many captures. (A killed process costs
// none: what it wrote is the system's.)
const syncRows = 64

// rowStore holds the rows of a batch, in memory and in the file that --out
// names. Rows are only ever appended; a later row of a path replaces an
// earlier one, and close puts the file in order.
type rowStore struct {
	path   string
	file   *os.File  // nil without --out
	stream io.Writer // for --out -
	unlock func()
	rows   map[string]*batchRow // by path
	size   int64                // of the file, whole lines only
	last   *batchRow            // the last line
	untidy bool                 // not in order, or rows replaced
	fresh  int                  // rows since the last sync
	cut    bool                 // the last line was, and was taken off
}

// openStore opens the output, reads the rows of an earlier run and cuts off a
// line that run could not finish. "" keeps rows in memory only, "-" streams
// them to stdout.
func openStore(path string, stdout io.Writer) (*rowStore, error) {
	s := &rowStore{rows: map[string]*batchRow{}}
	switch path {
	case "":
		return s, nil
	case "-":
		s.stream = stdout
		return s, nil
	}
	if st, err := os.Stat(path); err == nil && !st.Mode().IsRegular() {
		return nil, fmt.Errorf("--out %s: no regular file: name a file, or - for standard output", path)
	}
	// The file a link points to is the one that is locked and replaced.
	s.path = followed(path)
	unlock, err := lockFile(s.path)
	// The lock is ours to know of: what cannot be written is the output.
	if at := new(fs.PathError); errors.As(err, &at) {
		return nil, fmt.Errorf("--out %w", cannotWrite(path, err))
	}
	if err != nil {
		return nil, err
	}
	s.unlock = unlock
	if err := s.open(); err != nil {
		s.release()
		return nil, err
	}
	return s, nil
}

func (s *rowStore) open() error {
	f, err := os.OpenFile(s.path, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return err
	}
	s.file = f
	tail, err := readRows(f, s.path, func(r *batchRow, n int) { s.put(r, n) })
	if err != nil {
		return err
	}
	if tail > 0 {
		if err := f.Truncate(s.size); err != nil {
			return err
		}
		s.cut = true
	}
	_, err = f.Seek(s.size, io.SeekStart)
	return err
}

// put takes a row of n bytes that stands at the end of the file.
func (s *rowStore) put(r *batchRow, n int) {
	if s.last != nil && compareRows(s.last, r) >= 0 {
		s.untidy = true
	}
	if s.rows[r.file()] != nil {
		s.untidy = true
	}
	s.rows[r.file()], s.last = r, r
	s.size += int64(n)
}

// readRows calls each for every row with its length in bytes. tail is the
// length of an unfinished last line. Anything that is no row is an error, so
// that no other file is taken for an output and overwritten.
func readRows(r io.Reader, path string, each func(*batchRow, int)) (tail int, err error) {
	in := bufio.NewReaderSize(r, 1<<16)
	for n := 1; ; n++ {
		line, err := in.ReadBytes('\n')
		if errors.Is(err, io.EOF) {
			start := []byte(`{"schema":"` + batchSchema + `"`)
			short := min(len(start), len(line))
			// A power cut can leave zeros where the line should be.
			if !bytes.Equal(line[:short], start[:short]) && len(bytes.Trim(line, "\x00")) > 0 {
				return 0, notRow(path, n, line)
			}
			return len(line), nil
		}
		if err != nil {
			return 0, fmt.Errorf("%s: %w", path, err)
		}
		row := &batchRow{}
		if json.Unmarshal(line, row) != nil || row.Schema != batchSchema || row.Path == "" {
			return 0, notRow(path, n, line)
		}
		each(row, len(line))
	}
}

func notRow(path string, n int, line []byte) error {
	line = bytes.TrimSpace(line)
	return fmt.Errorf("%s, line %d: found %.40q, expected a row of a batch (%s): name another file", path, n, line, batchSchema)
}

// of returns the rows of the captures of a set that has been added.
func (s *rowStore) of(set *batchSet) []*batchRow {
	var rows []*batchRow
	for _, f := range set.files {
		rows = append(rows, s.rows[f.path])
	}
	return rows
}

// add appends the rows of one set. Rows that stand there already are left.
func (s *rowStore) add(rows []*batchRow) error {
	var b []byte
	var added []*batchRow
	var sizes []int
	for _, r := range rows {
		line, err := r.line()
		if err != nil {
			return fmt.Errorf("%s: %w", r.Path, err)
		}
		if old := s.rows[r.file()]; old != nil {
			if was, err := old.line(); err == nil && bytes.Equal(was, line) {
				continue
			}
		}
		b = append(b, line...)
		added, sizes = append(added, r), append(sizes, len(line))
	}
	if len(added) == 0 {
		return nil
	}
	switch {
	case s.stream != nil:
		if _, err := s.stream.Write(b); err != nil {
			return fmt.Errorf("cannot write to standard output: %w", err)
		}
	case s.file != nil:
		if _, err := s.file.Write(b); err != nil {
			return s.lost(err)
		}
	}
	for i, r := range added {
		s.put(r, sizes[i])
	}
	if s.fresh += len(added); s.fresh >= syncRows {
		return s.sync()
	}
	return nil
}

// lost says what a failed write left: the whole lines before it.
func (s *rowStore) lost(err error) error {
	if e := s.file.Truncate(s.size); e != nil {
		err = errors.Join(err, e)
	}
	kept := "nothing was written yet"
	if n := len(s.rows); n > 0 {
		kept = fmt.Sprintf("the %s before it are kept", plural(n, "row"))
		if n == 1 {
			kept = "the row before it is kept"
		}
	}
	return fmt.Errorf("cannot write %s: %w; %s: run the same command again then", s.path, toWrite(err), kept)
}

func (s *rowStore) sync() error {
	s.fresh = 0
	if s.file == nil {
		return nil
	}
	if err := s.file.Sync(); err != nil {
		return fmt.Errorf("cannot write %s: %w", s.path, err)
	}
	return nil
}

// sorted returns all rows in order.
func (s *rowStore) sorted() []*batchRow {
	list := make([]*batchRow, 0, len(s.rows))
	for _, r := range s.rows {
		list = append(list, r)
	}
	slices.SortFunc(list, compareRows)
	return list
}

// finish puts the file in order: one row a capture, sorted. Until the sorted
// file is whole the other one stays.
func (s *rowStore) finish() error {
	if s.file == nil {
		return nil
	}
	if err := s.sync(); err != nil {
		return err
	}
	if !s.untidy {
		return nil
	}
	if err := s.replace(s.sorted()); err != nil {
		return fmt.Errorf("cannot put the rows in order: %w; they are all there: make room and run the same command again", err)
	}
	s.untidy = false
	return nil
}

// replace puts rows in the place of all that the file holds.
func (s *rowStore) replace(rows []*batchRow) error {
	return writeAtomic(s.path, true, func(w io.Writer) error { return writeRows(w, rows) })
}

// release gives file and lock free.
func (s *rowStore) release() {
	if s.file != nil {
		s.file.Close()
	}
	if s.unlock != nil {
		s.unlock()
	}
}

func writeRows(w io.Writer, rows []*batchRow) error {
	for _, r := range rows {
		line, err := r.line()
		if err != nil {
			return fmt.Errorf("%s: %w", r.Path, err)
		}
		if _, err := w.Write(line); err != nil {
			return err
		}
	}
	return nil
}
