package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
)

// impossibleDate tells whether a name, or that of a folder, ends in what was meant for
// a date and is none, such as the 31st of April.
func impossibleDate(path string) bool {
	dir, name := filepath.Split(path)
	if slices.ContainsFunc(strings.Split(filepath.ToSlash(dir), "/"), noSuchDay) {
		return true
	}
	name = trimCaptureExt(name)
	for {
		word := lastWord(name)
		if !slices.Contains([]string{"free", "uncoupled", "coupled", "before", "after"}, strings.ToLower(word)) {
			break
		}
		rest := strings.TrimRight(strings.TrimSuffix(name, word), "-_. ")
		if rest == name {
			return false
		}
		name = rest
	}
	return noSuchDay(name)
}

// noSuchDay tells whether a text ends in a date that no calendar has. Two separators
// show that a date was meant: digits alone may be the number of a part.
func noSuchDay(s string) bool {
	m := datePattern.FindStringSubmatch(s)
	if m == nil || m[2] == "" || m[2] != m[4] {
		return false
	}
	_, at := cutDate(s)
	return at == ""
}

// noSuchDays names the captures whose dates no calendar has: each would be an actuator
// of its own, and nobody would notice.
func noSuchDays(all []batchSet, stderr io.Writer) {
	var names []string
	for _, s := range all {
		for i, f := range s.files {
			if k := s.keys[i]; !k.byPath && !k.byPreamble && impossibleDate(f.path) {
				names = append(names, oneLine(f.path))
			}
		}
	}
	if len(names) > 0 {
		fmt.Fprintf(stderr, "threewire batch: no such day, so taken for a part of the actuator's name: %s\n", some(names))
	}
}

// some is a list of names that stays short.
func some(names []string) string {
	const most = 3
	if n := len(names) - most; n > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), n)
	}
	return strings.Join(names, ", ")
}

// writeAlone prints the uncoupled captures that no coupled one of the same time was
// judged with: they say nothing of the door.
func writeAlone(w io.Writer, rows []*batchRow) {
	copied := copies(rows)
	var names []string
	for _, r := range rows {
		if r.Free && r.Result != nil && r.Joined == nil && copied[r] == nil {
			names = append(names, oneLine(r.Path))
		}
	}
	if len(names) == 0 {
		return
	}
	section(w, "Uncoupled, with no coupled capture of the same time: nothing is known of the door")
	for i, n := range names {
		if i == maxErrors {
			fmt.Fprintf(w, "  and %d more\n", len(names)-maxErrors)
			return
		}
		item(w, n)
	}
}
