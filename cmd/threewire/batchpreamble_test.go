package main

import (
	"bytes"
	"compress/gzip"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"threewire/fixtures"
)

const titlePattern = `^Title,(?P<actuator>[^,]+)|^Date,(?P<when>.+)$|^Repair,(?P<phase>.+)$|(?P<free>off its door)`

func TestPreambleKey(t *testing.T) {
	k, err := newKeyer("", titlePattern)
	if err != nil {
		t.Fatal(err)
	}
	all := "Title,Rig 3 left door,,\nDate,2026-03-01 14:30:05\nRepair,After\nNote,off its door\n\ntime,drive,feedback\n0,0,1\n"
	want := batchKey{actuator: "Rig 3 left door", when: "2026-03-01T14:30:05", phase: "after", free: true, occasion: "Rig 3 left door\n2026-03-01\nafter", byPreamble: true}
	path := filepath.Join(t.TempDir(), "0001-2026-05-05-before.csv")
	name := nameKey(path)
	half := name
	half.byPreamble = true
	half.actuator, half.occasion = "Rig 3 left door", "Rig 3 left door\n2026-05-05\nbefore"
	lines := strings.SplitAfter(all, "\n")
	slices.Reverse(lines[:4])
	for what, c := range map[string]struct {
		text string
		want batchKey
	}{
		"in order":       {all, want},
		"other order":    {strings.Join(lines, ""), want},
		"CR LF":          {strings.ReplaceAll(all, "\n", "\r\n"), want},
		"byte-order":     {"\xef\xbb\xbf" + all, want},
		"UTF-16":         {littleEndian(all), want},
		"gzip":           {packed(t, all), want},
		"gzip twice":     {packed(t, packed(t, all)), want},
		"no mark":        {littleEndian(all + strings.Repeat("0,0,1\n", 5000))[2:], want},
		"no mark, other": {swappedBytes(littleEndian(all)[2:]), want},
		"CR":             {strings.ReplaceAll(all, "\n", "\r"), want},
		"long":           {all + strings.Repeat("0,0,1\n", 5000), want},
		"title only":     {"Title,Rig 3 left door\n", half},
		"no title":       {"Date,2026-03-01\noff its door\n", name},
		"empty":          {"", name},
		"too far below":  {strings.Repeat("note\n", 1000) + all, name},
		"damaged gzip":   {"\x1f\x8b\x08\x00", name},
		"Latin-1 letter": {"Operator,J\xfcrgen\n" + all, want},
	} {
		put(t, path, c.text)
		if got := k.key(found{path: path}); got != c.want {
			t.Errorf("%s: %+v, want %+v", what, got, c.want)
		}
	}
	if got := k.key(found{path: filepath.Join(t.TempDir(), "none.csv")}); got.actuator == "" {
		t.Error("a missing file has no actuator")
	}
}

func littleEndian(s string) string {
	b := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, byte(u), byte(u>>8))
	}
	return string(b)
}

func swappedBytes(s string) string {
	b := []byte(s)
	for i := 0; i+1 < len(b); i += 2 {
		b[i], b[i+1] = b[i+1], b[i]
	}
	return string(b)
}

func packed(t *testing.T, s string) string {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write([]byte(s)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Captures that are numbered by their instrument are paired by what stands in
// them.
func TestBatchGroupsByPreamble(t *testing.T) {
	dir := t.TempDir()
	add := func(name, head string, s fixtures.Spec) {
		path := filepath.Join(dir, name)
		putCapture(t, path, s)
		put(t, path, head+slurp(t, path))
	}
	add("0001.csv", "Title,mode door\nDate,2026-03-01\n\n", fixtures.Spec{Seed: 1, Fault: fixtures.Jam, Severity: 0.8})
	add("0002.csv", "Title,intake door\nDate,2026-03-01\n\n", fixtures.Spec{Seed: 2})
	add("0003.csv", "Title,mode door\nDate,2026-03-01\nNote,off its door\n\n", fixtures.Spec{Seed: 1, Fault: fixtures.Jam, Severity: 0.8, Free: true})
	add("0004.csv", "", fixtures.Spec{Seed: 3})
	out := filepath.Join(t.TempDir(), "o.jsonl")
	args := []string{dir, "--out", out, "--preamble-key", titlePattern}
	mustBatch(t, args...)
	got := map[string]*batchRow{}
	for _, r := range readOut(t, out) {
		if r.Error != "" {
			t.Errorf("%s: %s", r.Path, r.Error)
		}
		got[filepath.Base(r.Path)] = r
	}
	for name, want := range map[string]string{"0001.csv": "mode door", "0002.csv": "intake door", "0003.csv": "mode door", "0004.csv": filepath.Join(dir, "0004")} {
		r := got[name]
		if r == nil || r.Actuator != want || (r.Joined != nil) != (want == "mode door") || r.Free != (name == "0003.csv") {
			t.Errorf("%s: %+v, want actuator %s", name, r, want)
		}
	}
	if _, errs := mustBatch(t, args...); !strings.Contains(errs, "0 checked, 4 unchanged") {
		t.Errorf("a second run says %q", errs)
	}
	for _, bad := range []string{"(", "Title"} {
		if code, _, errs := runBatch(t, "", dir, "--preamble-key", bad); code != exitUsage || !strings.Contains(errs, "--preamble-key") {
			t.Errorf("%q: exit %d, %q", bad, code, errs)
		}
	}
}

// A capture with a clock tells its date itself; the name goes before it.
func TestBatchDateFromTheClock(t *testing.T) {
	dir := t.TempDir()
	put(t, filepath.Join(dir, "door.csv"), clocked(t))
	put(t, filepath.Join(dir, "door-2025-01-02.csv"), clocked(t))
	out := filepath.Join(t.TempDir(), "o.jsonl")
	mustBatch(t, dir, "--out", out)
	var got []string
	for _, r := range readOut(t, out) {
		got = append(got, r.When)
	}
	start := clocked(t)
	start = start[strings.IndexByte(start, '\n')+1:][:19]
	if want := []string{strings.Replace(start, " ", "T", 1), "2025-01-02"}; !slices.Equal(got, want) {
		t.Errorf("dates %q, want %q", got, want)
	}
}

func clocked(t *testing.T) string {
	t.Helper()
	c, err := fixtures.Make(fixtures.Spec{Seed: 1, Instrument: "pocket-logger", Duration: 12})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := c.WriteCSV(&b, "clock"); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The recipes' files and the help say the same.
func TestRecipesAreWholeInTheHelp(t *testing.T) {
	for name, parts := range map[string][]string{
		"recipes/parallel.sh":     {"threewire batch", "--quiet --workers 1", "--shard", "parallel -q", "--merge"},
		"recipes/slurm.sh":        {"threewire batch", "#SBATCH --array=1-8", `--workers "${SLURM_CPUS_PER_TASK:-1}"`, "--merge"},
		"recipes/kubernetes.yaml": {"threewire batch", "completionMode: Indexed", "k=$((JOB_COMPLETION_INDEX + 1))", "--merge"},
	} {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range parts {
			if !strings.Contains(string(b), p) || !strings.Contains(batchUsage, p) {
				t.Errorf("%q: in %s %t, in the help %t", p, name, strings.Contains(string(b), p), strings.Contains(batchUsage, p))
			}
		}
	}
}
