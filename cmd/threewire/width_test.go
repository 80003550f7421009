package main

import (
	"regexp"
	"strings"
	"testing"
)

// widest is the longest line of a text, in characters.
func widest(text string) (line string) {
	for _, l := range strings.Split(text, "\n") {
		if len([]rune(l)) > len([]rune(line)) {
			line = l
		}
	}
	return line
}

// What is printed keeps to the width that COLUMNS asks for, down to one at which words can
// still be read; without it the verdict is one line, as scripts take it.
func TestLinesKeepToTheWidth(t *testing.T) {
	spot := readText(t, demo)
	t.Chdir(t.TempDir())
	put(t, "a.csv", spot) // a long name would be left whole
	for _, c := range []struct {
		columns string
		width   int
	}{{"60", 60}, {"12", leastWidth}, {"500", usualWidth}} {
		t.Setenv("COLUMNS", c.columns)
		_, out, _ := call("", "check", "a.csv")
		if l := widest(out); len([]rune(l)) > c.width || len([]rune(l)) < c.width*3/4 {
			t.Errorf("COLUMNS=%s: a line of %d characters: %q", c.columns, len([]rune(l)), l)
		}
	}
	t.Setenv("COLUMNS", "60")
	if _, out, _ := call("", "columns", "a.csv"); len(widest(out)) > 60 {
		t.Errorf("columns: %q", widest(out))
	}
	for _, none := range []string{"", "0", "wide"} {
		t.Setenv("COLUMNS", none)
		_, out, _ := call("", "check", "a.csv")
		_, brief, _ := call("", "check", "--brief", "a.csv")
		if first, _, _ := strings.Cut(out, "\n"); first+"\n" != brief {
			t.Errorf("COLUMNS=%q: the verdict is not one line: %q", none, first)
		}
	}
}

// A table by actuator that is wider than asked for is told in lines that fit, and loses nothing.
func TestBatchKeepsToTheWidth(t *testing.T) {
	spot := readText(t, demo)
	t.Chdir(t.TempDir())
	put(t, "logs/a.csv", spot)
	put(t, "logs/b.csv", "no capture\n")
	run := func(columns string) string {
		t.Setenv("COLUMNS", columns)
		_, out, _ := call("", "batch", "logs")
		if w := len([]rune(widest(out))); columns != "" && w > 60 {
			t.Errorf("COLUMNS=%s: a line of %d characters: %q", columns, w, widest(out))
		}
		_, table, found := strings.Cut(out, "By actuator\n")
		if !found {
			t.Fatalf("COLUMNS=%s: no table by actuator in %q", columns, out)
		}
		return table
	}
	table, _, _ := strings.Cut(run(""), "\n\n")
	if !regexp.MustCompile(`(?m)^  logs/a +1 +1 +0 +0 +feedback sensor \(\d+ %\)$`).MatchString(table) {
		t.Errorf("no width asked for: %q", table)
	}
	list, _, _ := strings.Cut(run("60"), "\n\n")
	if !regexp.MustCompile(`^  logs/a\n    1 verdict, 1 faulty; latest: feedback sensor \(\d+ %\)\n  logs/b\n    0 verdicts, 1 not read$`).MatchString(list) {
		t.Errorf("COLUMNS=60: %q", list)
	}
}

// Help fits a terminal of usual width, but for commands that are to be copied.
func TestHelpFitsATerminal(t *testing.T) {
	copied := regexp.MustCompile(`^ +(threewire|--|Rig|parallel|find)`)
	for _, c := range commands() {
		_, out, _ := call("", c.name, "--help")
		for _, l := range strings.Split(out, "\n") {
			if len([]rune(l)) > helpWidth && !copied.MatchString(l) {
				t.Errorf("%s: %d characters: %q", c.name, len([]rune(l)), l)
			}
		}
	}
}
