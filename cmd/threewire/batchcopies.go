package main

import (
	"fmt"
	"io"
)

// copies tells of each row whose bytes another row before it has which one that is: a
// copy is no second capture, and no table counts it. Rows are sorted.
func copies(rows []*batchRow) map[*batchRow]*batchRow {
	first := map[string]*batchRow{}
	out := map[*batchRow]*batchRow{}
	for _, r := range rows {
		if r.SHA256 == "" || r.Error != "" {
			continue
		}
		if f := first[r.SHA256]; f != nil {
			out[r] = f
		} else {
			first[r.SHA256] = r
		}
	}
	return out
}

// maxCopies is how many copies the table names.
const maxCopies = 10

// writeCopies prints which captures were not counted.
func writeCopies(w io.Writer, rows []*batchRow) {
	of := copies(rows)
	if len(of) == 0 {
		return
	}
	section(w, "Copies, counted once")
	n := 0
	for _, r := range rows {
		f := of[r]
		if f == nil {
			continue
		}
		if n++; n > maxCopies {
			fmt.Fprintf(w, "  and %d more\n", len(of)-maxCopies)
			return
		}
		item(w, fmt.Sprintf("%s has the same bytes as %s", oneLine(r.Path), oneLine(f.Path)))
	}
}
