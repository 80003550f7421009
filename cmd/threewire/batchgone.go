package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// sameFiles drops rows of earlier runs whose captures this run found under another
// path, such as a whole one for a relative one, and returns how many. The bytes must
// be the same too, for the earlier run may have had another working folder. A set goes
// whole or not at all.
func (s *rowStore) sameFiles(now []*batchRow) int {
	at, mine := map[string]*batchRow{}, map[*batchRow]bool{}
	for _, r := range now {
		mine[r] = true
		if whole, err := filepath.Abs(r.file()); err == nil {
			at[whole] = r
		}
	}
	sets := map[string][]*batchRow{}
	stays := map[string]bool{}
	for _, r := range s.rows {
		if mine[r] {
			stays[r.Set] = true
			continue
		}
		sets[r.Set] = append(sets[r.Set], r)
		whole, err := filepath.Abs(r.file())
		if err != nil || at[whole] == nil || at[whole].SHA256 != r.SHA256 {
			stays[r.Set] = true
		}
	}
	n := 0
	for set, rows := range sets {
		if stays[set] {
			continue
		}
		for _, r := range rows {
			delete(s.rows, r.file())
			s.untidy = true
			n++
		}
	}
	return n
}

// gone are the paths of rows of earlier runs whose files are not there any more.
func (s *rowStore) gone(now []*batchRow) []string {
	mine := map[*batchRow]bool{}
	for _, r := range now {
		mine[r] = true
	}
	var list []string
	for _, r := range s.sorted() {
		if mine[r] {
			continue
		}
		if _, err := os.Stat(r.file()); errors.Is(err, fs.ErrNotExist) {
			list = append(list, oneLine(r.Path))
		}
	}
	return list
}

// earlierRows puts right, and says, what the rows of earlier runs have to do with the
// captures of this one. They stay, for a run may name a part of a shelf.
func earlierRows(s *rowStore, now []*batchRow, stderr io.Writer) error {
	if n := s.sameFiles(now); n > 0 {
		fmt.Fprintf(stderr, "threewire batch: %s of the same files under other paths replaced\n", plural(n, "row"))
		if err := s.finish(); err != nil {
			return err
		}
	}
	if list := s.gone(now); len(list) > 0 {
		fmt.Fprintf(stderr, "threewire batch: %s counted from earlier runs whose files are not there any more: %s (to leave them out, name another --out)\n", plural(len(list), "row"), some(list))
	}
	return nil
}
