package main

import (
	"fmt"
	"io"
	"strings"
)

// unread says, whatever is quiet, when no capture of a run could be read, and when a
// flag that says how to read did not fit. Flags that fit no capture at all are wrong
// use; of a part of the captures nobody can say so.
func unread(rows []*batchRow, part bool, stderr io.Writer) error {
	read, misfits := 0, 0
	first := ""
	for _, r := range rows {
		if r.Error == "" {
			read++
		}
		if text := strings.TrimPrefix(r.Error, r.Path+": "); strings.HasPrefix(text, "--") {
			if misfits++; misfits == 1 {
				first = oneLine(r.Path + ": " + text)
			}
		}
	}
	switch {
	case misfits > 0 && read == 0 && !part:
		return fmt.Errorf("none of %s could be read, and of %d a flag is the reason: %s", plural(len(rows), "capture"), misfits, first)
	case misfits > 0:
		fmt.Fprintf(stderr, "threewire batch: %d of %s could not be read because of a flag: %s\n", misfits, plural(len(rows), "capture"), first)
	case read == 0 && len(rows) > 0:
		fmt.Fprintf(stderr, "threewire batch: none of %s could be read\n", plural(len(rows), "capture"))
	}
	return nil
}

// unmatched says when a pattern left captures to their names.
func unmatched(all []batchSet, keys keyer, stderr io.Writer) {
	say := func(flag, of, instead string, matched func(batchKey) bool) {
		n, total, first := 0, 0, ""
		for _, s := range all {
			for i, k := range s.keys {
				total++
				switch {
				case matched(k):
					n++
				case first == "":
					first = oneLine(s.files[i].path)
				}
			}
		}
		if n < total {
			fmt.Fprintf(stderr, "threewire batch: --%s matches %s of %d of %s, not %s: %s\n", flag, of, n, plural(total, "capture"), first, instead)
		}
	}
	if keys.path != nil {
		say("key", "the path", "what it does not match goes by its name", func(k batchKey) bool { return k.byPath })
	}
	if keys.preamble != nil {
		say("preamble-key", "the first lines", "what it does not match goes by its path", func(k batchKey) bool { return k.byPreamble })
	}
}
