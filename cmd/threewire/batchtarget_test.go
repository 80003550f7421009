package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A table replaces tables only, and nothing that the run reads or writes.
func TestBatchTargets(t *testing.T) {
	dir, _ := shelf(t)
	t.Chdir(t.TempDir())
	entries, err := os.ReadDir(filepath.Join(dir, "Rig 1"))
	if err != nil {
		t.Fatal(err)
	}
	capture := filepath.Join(dir, "Rig 1", entries[0].Name())
	os.Symlink(".", "link")
	os.Symlink(capture, "c.svg")
	mustBatch(t, capture, "--out", "m1", "--csv", "old.csv", "--quiet")
	mustBatch(t, capture, "--out", "m2", "--quiet")
	put(t, "notes.csv", "a note\n")
	put(t, "photo.png", "not ours\n")
	put(t, "p.profile", "threewire actuator profile 1\n")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{dir, "--csv", capture}, "is no table of a batch"},
		{[]string{capture, "--csv", capture}, "is no table of a batch"},
		{[]string{dir, "--csv", "notes.csv"}, "is no table of a batch"},
		{[]string{dir, "--csv", "p.profile", "--profile", "p.profile"}, "is one of the inputs"},
		{[]string{dir, "--chart", "c.svg"}, "c.svg exists and is no chart of a batch"},
		{[]string{dir, "--chart", "photo.png"}, "photo.png exists and is no chart of a batch"},
		{[]string{"--merge", "m1", "m2", "--csv", "m2"}, "is one of the inputs"},
		{[]string{dir, "--out", "x.jsonl", "--csv", "x.jsonl"}, "--out and --csv both name x.jsonl"},
		{[]string{dir, "--out", "x.jsonl", "--csv", "./x.jsonl"}, "--out and --csv both name x.jsonl"},
		{[]string{dir, "--out", "x.jsonl", "--csv", "link/x.jsonl"}, "--out and --csv both name x.jsonl"},
		{[]string{dir, "--out", "m1", "--csv", "link/m1"}, "--out and --csv both name m1"},
		{[]string{dir, "--csv", "x.svg", "--chart", "link/x.svg"}, "--csv and --chart both name x.svg"},
		{[]string{dir, "--csv", "gone/x.csv"}, "--csv cannot write gone/x.csv: no such file"},
		{[]string{dir, "--chart", "gone/x.svg"}, "--chart cannot write gone/x.svg: no such file"},
		{[]string{dir, "--csv", "new.csv", "--reference-volts", "inf"}, "--reference-volts +Inf"},
		{[]string{"--merge", "m1", "--profile", "none"}, "--profile belongs to the runs"},
		{[]string{"--merge", "m1", "--reference-volts", "3"}, "--reference-volts belongs to the runs"},
		{[]string{"--merge", "m1", "--drive", "2"}, "--drive belongs to the runs"},
		{[]string{"--merge", "m1", "--rate", "50"}, "--rate belongs to the runs"},
		{[]string{"--merge", "m1", "--null"}, "--null belongs to the runs"},
		{[]string{"--merge", "m1", "--shard", "1/2"}, "--shard belongs to the runs"},
	} {
		before := map[string]string{}
		for _, p := range []string{capture, "m1", "m2", "notes.csv", "photo.png", "p.profile"} {
			before[p] = slurp(t, p)
		}
		code, out, errs := runBatch(t, "", append(c.args, "--quiet")...)
		if code != exitUsage || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%q: exit %d, %.40q, %q; want exit 2 and %q", c.args, code, out, errs, c.want)
		}
		for p, text := range before {
			if slurp(t, p) != text {
				t.Fatalf("%q changed %s", c.args, p)
			}
		}
		if _, err := os.Stat("x.jsonl"); err == nil {
			t.Fatalf("%q began to write", c.args)
		}
	}
	// A table of an earlier run is replaced, an empty file too.
	was := slurp(t, "old.csv")
	put(t, "old.csv", was[:strings.IndexByte(was, '\n')+1])
	put(t, "empty.csv", "")
	for _, p := range []string{"old.csv", "empty.csv"} {
		mustBatch(t, capture, "--csv", p, "--quiet")
		if slurp(t, p) != was {
			t.Errorf("%s is %.60q", p, slurp(t, p))
		}
	}
}

// A merge into rows that are there already keeps those of other captures, and
// takes newer ones for older.
func TestBatchMergeKeepsRows(t *testing.T) {
	dir, n := shelf(t)
	tmp := t.TempDir()
	whole, part, merged := filepath.Join(tmp, "whole.jsonl"), filepath.Join(tmp, "part.jsonl"), filepath.Join(tmp, "merged.jsonl")
	mustBatch(t, dir, "--out", whole, "--quiet")
	want := slurp(t, whole)
	lines := strings.SplitAfter(strings.TrimSuffix(want, "\n"), "\n")
	put(t, merged, strings.Join(lines[1:], "")+"\n")
	put(t, part, lines[0]+strings.Replace(lines[1], `"size":`, `"size":9`, 1))
	sheet := filepath.Join(tmp, "sheet.csv")
	mustBatch(t, "--merge", part, "--out", merged, "--csv", sheet, "--quiet")
	if got := slurp(t, merged); got != strings.Replace(want, lines[1], strings.Replace(lines[1], `"size":`, `"size":9`, 1), 1) {
		t.Errorf("%d rows of %d:\n%s", strings.Count(got, "\n"), n, got)
	}
	if rows := strings.Count(slurp(t, sheet), "\n"); rows < n+1 {
		t.Errorf("the table has %d lines for %d captures", rows, n)
	}
	// Half a row at the end of what was there is told.
	put(t, merged, want+lines[0][:40])
	if code, _, errs := runBatch(t, "", "--merge", part, "--out", merged, "--quiet"); code != 0 || !strings.Contains(errs, "cut short and is left out") {
		t.Errorf("exit %d, %q", code, errs)
	}
}
