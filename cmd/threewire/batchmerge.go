package main

import (
	"fmt"
	"io"
	"os"
	"reflect"
	"slices"
)

// mergeRows joins the rows of several outputs as one run would have written
// them, writes them to out unless that is empty, and returns them. Two
// different rows of one capture are an error: nobody could tell which is
// right.
func mergeRows(paths []string, out string, stdout io.Writer) ([]*batchRow, error) {
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
		for path, r := range own {
			if was := rows[path]; was != nil && !reflect.DeepEqual(was, r) {
				return nil, fmt.Errorf("%s and %s say different things about %q: run the older one again, then merge", from[path], p, r.Path)
			}
			rows[path], from[path] = r, p
		}
	}
	list := make([]*batchRow, 0, len(rows))
	for _, r := range rows {
		list = append(list, r)
	}
	slices.SortFunc(list, compareRows)
	switch out {
	case "":
		return list, nil
	case "-":
		return list, writeRows(stdout, list)
	}
	// Opened as a run would, for its lock and its refusal to replace a file
	// that is something else.
	s, err := openStore(out, stdout)
	if err != nil {
		return nil, err
	}
	defer s.release()
	return list, s.replace(list)
}
