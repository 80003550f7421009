package main

import (
	"fmt"
	"io"
	"maps"
	"os"
	"reflect"
	"slices"
)

// mergeRows joins the rows of several outputs as one run would have written
// them, writes them to out unless that is empty, and returns all that are
// there then. Two different rows of one capture are an error: nobody could
// tell which is right. Rows that out has already stay, but for newer ones of
// the same captures.
func mergeRows(paths []string, out string, stdout, stderr io.Writer) ([]*batchRow, error) {
	rows, from := map[string]*batchRow{}, map[string]string{}
	for _, p := range paths {
		own := map[string]*batchRow{}
		f, err := os.Open(p)
		if err != nil {
			return nil, err
		}
		tail, err := readRows(f, p, func(r *batchRow, _ int) { own[r.file()] = r })
		f.Close()
		if err != nil {
			return nil, err
		}
		if tail > 0 {
			return nil, fmt.Errorf("%s: its last line is cut short: run the command that writes it again, then merge", p)
		}
		for _, path := range slices.Sorted(maps.Keys(own)) {
			r := own[path]
			if was := rows[path]; was != nil && !reflect.DeepEqual(was, r) {
				return nil, fmt.Errorf("%s and %s say different things about %q: run the older one again, then merge", from[path], p, r.Path)
			}
			rows[path], from[path] = r, p
		}
	}
	// Opened as a run would, for its lock and its refusal to replace a file
	// that is something else.
	s, err := openStore(out, stdout)
	if err != nil {
		return nil, err
	}
	defer s.release()
	if s.cut {
		fmt.Fprintf(stderr, "threewire batch: %s: its last line was cut short and is left out\n", s.path)
	}
	maps.Copy(s.rows, rows)
	list := s.sorted()
	switch {
	case s.stream != nil:
		return list, writeRows(stdout, list)
	case s.file != nil:
		return list, s.replace(list)
	}
	return list, nil
}
