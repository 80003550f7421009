package plots

import (
	"strings"
	"testing"
)

func TestReadNotes(t *testing.T) {
	got, err := ReadNotes(strings.NewReader("\ufeff# seen at the bench\n\n12.5 3.2 jumps here\n 7\t1,5\tand  here\r\n"), "notes.txt")
	if err != nil {
		t.Fatal(err)
	}
	want := []Note{{12.5, 3.2, "jumps here"}, {7, 1.5, "and here"}}
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("got %v, want %v", got, want)
	}
	for _, c := range []struct{ in, want string }{
		{"# ok\n12.5 3.2\n", "notes.txt:2: found \"12.5 3.2\", expected: time in s, volts, text"},
		{"soon 3.2 jumps\n", "notes.txt:1: found \"soon\" as the time"},
		{"3 high jumps\n", "found \"high\" as the volts"},
		{"NaN 1 x\n", "as the time"},
		{"1 1 \xff\n", "UTF-8"},
		{strings.Repeat("1 1 x\n", maxNotes+1), "more than 40 notes"},
		{"1 1 " + strings.Repeat("x", 70_000), "notes.txt: "},
	} {
		if _, err := ReadNotes(strings.NewReader(c.in), "notes.txt"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.30q: got %v, want an error with %q", c.in, err, c.want)
		}
	}
}

func TestWrap(t *testing.T) {
	f, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	text := "Stall short of the stop at 3.79 V, six times, " + strings.Repeat("W", 60) + " end"
	lines := f.wrap(text, 9, false, 120)
	for _, l := range lines {
		if w := f.measure(l, 9, false); w > 120 {
			t.Errorf("line %q is %.1f pt wide, at most 120", l, w)
		}
	}
	strip := func(s string) string { return strings.Join(strings.Fields(s), "") }
	if strip(strings.Join(lines, "")) != strip(text) {
		t.Errorf("wrapping lost or added signs: %q", lines)
	}
	if got := f.printable("a\tb\x00c\U0010FFFF"); got != "a bc?" {
		t.Errorf("printable: %q", got)
	}
	if got := f.shorten("rig-4-left-temperature-door-before-repair.csv", 9, false, 100); f.measure(got, 9, false) > 100 || !strings.Contains(got, "…") {
		t.Errorf("shorten: %q", got)
	}
}
