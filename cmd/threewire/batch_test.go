package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"threewire/fixtures"
)

func runBatch(t *testing.T, stdin string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = batch(context.Background(), args, strings.NewReader(stdin), &out, &errs)
	return code, out.String(), errs.String()
}

// mustBatch runs a batch that has to succeed.
func mustBatch(t *testing.T, args ...string) (stdout, stderr string) {
	t.Helper()
	code, stdout, stderr := runBatch(t, "", args...)
	if code != 0 {
		t.Fatalf("batch %q: exit %d: %s", args, code, stderr)
	}
	return stdout, stderr
}

// putCapture writes a small simulated capture.
func putCapture(t *testing.T, path string, s fixtures.Spec) {
	t.Helper()
	s.Instrument, s.Shape = "pocket-logger", "plain"
	if s.Duration == 0 {
		s.Duration = 12
	}
	c, err := fixtures.Make(s)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := c.WriteCSV(&b, ""); err != nil {
		t.Fatal(err)
	}
	put(t, path, b.String())
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func slurp(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// readOut returns the rows of an output in the order of the file.
func readOut(t *testing.T, path string) []*batchRow {
	t.Helper()
	var rows []*batchRow
	tail, err := readRows(strings.NewReader(slurp(t, path)), path, func(r *batchRow, _ int) { rows = append(rows, r) })
	if err != nil || tail != 0 {
		t.Fatalf("%s: %d bytes left over, %v", path, tail, err)
	}
	return rows
}

func pathsOf(rows []*batchRow) []string {
	var p []string
	for _, r := range rows {
		p = append(p, r.file())
	}
	return p
}

// shelf makes a folder of captures good and bad, one pair among them.
func shelf(t *testing.T) (dir string, captures int) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "shelf")
	for i := range 6 {
		s := fixtures.Spec{Seed: uint64(i), Severity: 0.8, Fault: []fixtures.Fault{fixtures.Healthy, fixtures.Jam, fixtures.DeadSpot}[i%3]}
		putCapture(t, filepath.Join(dir, fmt.Sprintf("Rig %d", i+1), "mode door-2026-03-01.csv"), s)
	}
	putCapture(t, filepath.Join(dir, "Rig 2", "mode door-free-2026-03-01.csv"), fixtures.Spec{Seed: 1, Severity: 0.8, Fault: fixtures.Jam, Free: true})
	put(t, filepath.Join(dir, "Rig 9", "shopping.txt"), "two doors\nand a list\n")
	put(t, filepath.Join(dir, "Rig 9", "empty.csv"), "")
	put(t, filepath.Join(dir, "Rig 9", "notes.md"), "not a capture by its name")
	return dir, 9
}

func TestBatchOrderDoesNotDependOnWorkers(t *testing.T) {
	dir, n := shelf(t)
	tmp := t.TempDir()
	one, many := filepath.Join(tmp, "one.jsonl"), filepath.Join(tmp, "many.jsonl")
	table1, _ := mustBatch(t, dir, "--workers", "1", "--out", one)
	table2, _ := mustBatch(t, dir, "--workers", "5", "--out", many)
	if slurp(t, one) != slurp(t, many) {
		t.Error("rows differ between 1 and 5 workers")
	}
	if table1 != table2 {
		t.Errorf("tables differ:\n%s\n%s", table1, table2)
	}
	rows := readOut(t, one)
	if len(rows) != n {
		t.Errorf("%d rows, want %d: %q", len(rows), n, pathsOf(rows))
	}
	if !slices.IsSortedFunc(rows, compareRows) {
		t.Errorf("rows not sorted: %q", pathsOf(rows))
	}
	streamed, table := mustBatch(t, dir, "--workers", "3", "--out", "-")
	if streamed != slurp(t, one) {
		t.Error("--out - gives other rows than a file")
	}
	if !strings.Contains(table, "By actuator") {
		t.Errorf("--out - left no table on stderr: %s", table)
	}
}

func TestBatchBadFilesAreRows(t *testing.T) {
	dir, n := shelf(t)
	if err := os.Symlink("loop.csv", filepath.Join(dir, "loop.csv")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(dir, filepath.Join(dir, "Rig 1", "up")); err != nil {
		t.Fatal(err)
	}
	tmp := t.TempDir()
	out, sheet := filepath.Join(tmp, "o.jsonl"), filepath.Join(tmp, "o.csv")
	missing := filepath.Join(tmp, "missing.csv")
	table, _ := mustBatch(t, dir, missing, "--out", out, "--csv", sheet)
	bad := map[string]bool{}
	for _, r := range readOut(t, out) {
		if (r.Error == "") == (r.Result == nil) {
			t.Errorf("%s: error %q and result %v: want one of them", r.Path, r.Error, r.Result)
		}
		if r.Error != "" {
			bad[filepath.Base(r.Path)] = true
		}
	}
	for _, want := range []string{"shopping.txt", "empty.csv", "loop.csv", "missing.csv"} {
		if !bad[want] {
			t.Errorf("%s is no row with an error; such rows: %v", want, bad)
		}
	}
	if len(bad) != 4 {
		t.Errorf("errors: %v, want 4", bad)
	}
	if !strings.Contains(table, "4 not read") {
		t.Errorf("the table does not say 4 not read:\n%s", table)
	}
	if !strings.Contains(table, missing) {
		t.Errorf("the table does not say that %s is missing:\n%s", missing, table)
	}
	if _, errs := mustBatch(t, missing, dir, missing); strings.Contains(errs, "no captures") {
		t.Errorf("a file named twice: %s", errs)
	}
	cells, err := csv.NewReader(strings.NewReader(slurp(t, sheet))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(cells) != n+2+1 {
		t.Errorf("CSV has %d lines, want a header and %d", len(cells), n+2)
	}
}

func TestBatchPairsAreJudgedTogether(t *testing.T) {
	dir, _ := shelf(t)
	out := filepath.Join(t.TempDir(), "o.jsonl")
	table, _ := mustBatch(t, dir, "--out", out)
	joined := 0
	for _, r := range readOut(t, out) {
		if want := strings.Contains(r.Path, "Rig 2"); (r.Joined != nil) != want {
			t.Errorf("%s: joined %v, want %t", r.Path, r.Joined, want)
		}
		if r.Joined != nil {
			joined++
		}
		if want := strings.Contains(r.Path, "free"); r.Free != want {
			t.Errorf("%s: free %t, want %t", r.Path, r.Free, want)
		}
	}
	if joined != 2 {
		t.Errorf("%d rows joined, want the pair", joined)
	}
	// Seven readable captures, two of them one verdict.
	if !strings.HasPrefix(table, "9 captures, 6 verdicts (1 set coupled with free), 2 not read\n") {
		t.Errorf("table starts %.80q", table)
	}
}

func TestBatchAwkwardNames(t *testing.T) {
	dir := t.TempDir()
	names := []string{"with space.csv", "line\nend.csv", "=1+2.csv", "quote\",comma.csv", "latin-\xe9.csv", "latin-\xe8.csv", "-dash.csv"}
	for i, n := range names {
		names[i] = filepath.Join(dir, n)
		put(t, names[i], "time,drive\n")
	}
	slices.Sort(names)
	tmp := t.TempDir()
	out, listed, sheet := filepath.Join(tmp, "o.jsonl"), filepath.Join(tmp, "l.jsonl"), filepath.Join(tmp, "o.csv")
	mustBatch(t, dir, "--out", out, "--csv", sheet)
	got := pathsOf(readOut(t, out))
	slices.Sort(got)
	if !slices.Equal(got, names) {
		t.Errorf("paths %q, want %q", got, names)
	}
	for _, line := range strings.Split(strings.TrimSuffix(slurp(t, out), "\n"), "\n") {
		if !json.Valid([]byte(line)) {
			t.Errorf("not JSON: %q", line)
		}
	}
	if code, _, errs := runBatch(t, strings.Join(names, "\x00")+"\x00", "-", "--null", "--out", listed); code != 0 {
		t.Fatalf("list on stdin: exit %d: %s", code, errs)
	}
	if slurp(t, listed) != slurp(t, out) {
		t.Error("a list on standard input gives other rows than the folder")
	}
	if _, errs := mustBatch(t, dir, "--out", out); !strings.Contains(errs, "0 checked, 7 unchanged") {
		t.Errorf("second run says %q", errs)
	}
	cells, err := csv.NewReader(strings.NewReader(slurp(t, sheet))).ReadAll()
	if err != nil || len(cells) != len(names)+1 {
		t.Errorf("CSV: %d lines, %v; want %d", len(cells), err, len(names)+1)
	}
}

func TestBatchKeepsItsOwnOutputOut(t *testing.T) {
	dir, n := shelf(t)
	out, sheet := filepath.Join(dir, "rows.txt"), filepath.Join(dir, "table.csv")
	for range 2 {
		mustBatch(t, dir, "--out", out, "--csv", sheet)
		if got := readOut(t, out); len(got) != n {
			t.Errorf("%d rows, want %d: %q", len(got), n, pathsOf(got))
		}
	}
}

func TestBatchRefuses(t *testing.T) {
	empty := t.TempDir()
	dir, _ := shelf(t)
	precious := filepath.Join(t.TempDir(), "precious.txt")
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "PATH"},
		{[]string{empty}, "no captures found in " + empty},
		{[]string{filepath.Join(empty, "*.csv")}, "no captures found"},
		{[]string{"-"}, "no captures found"},
		{[]string{dir, "--shard", "0/4"}, "K/N"},
		{[]string{dir, "--shard", "5/4"}, "K/N"},
		{[]string{dir, "--workers", "0"}, "--workers"},
		{[]string{dir, "--key", "("}, "--key"},
		{[]string{dir, "--key", "door"}, "actuator"},
		{[]string{dir, "--quiet"}, "--out"},
		{[]string{dir, "--scale", "drive"}, "ROLE=FACTOR"},
		{[]string{dir, "--reference-volts", "NaN"}, "positive"},
		{[]string{dir, "--out", precious}, "name another file"},
		{[]string{dir, "--out", empty}, "no regular file"},
		{[]string{dir, "--out", filepath.Join(empty, "no", "x.jsonl")}, "--out cannot write " + filepath.Join(empty, "no", "x.jsonl") + ": no such file"},
		{[]string{"--merge", precious}, "name another file"},
		{[]string{"--merge"}, "--out files"},
	} {
		put(t, precious, "do not touch")
		code, out, errs := runBatch(t, "", c.args...)
		if code != exitUsage || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%q: exit %d, stdout %.40q, stderr %q; want exit 2 and %q", c.args, code, out, errs, c.want)
		}
		if slurp(t, precious) != "do not touch" {
			t.Fatalf("%q changed a file that is no output", c.args)
		}
	}
}

// A list that is separated otherwise than was said would be one odd name; a name with a
// line end in it is one all the same.
func TestBatchListOfOtherEnds(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a.csv"), filepath.Join(dir, "b\nc.csv")
	put(t, a, drawCSV())
	put(t, b, drawCSV())
	for _, c := range []struct {
		list, flag, want string
	}{
		{a + "\n" + a + "\n", "--null", "leave --null out"},
		{a + "\n", "--null", "leave --null out"},
		{a + "\x00" + b + "\x00", "--workers=1", "add --null"},
		{b, "--null", ""},
		{a + "\x00" + b + "\x00", "--null", ""},
		{a, "--null", ""},
		{a + "\r\n", "--workers=1", ""},
	} {
		code, _, errs := runBatch(t, c.list, "-", c.flag, "--quiet", "--csv", "-")
		if (code == exitUsage) != (c.want != "") || !strings.Contains(errs, c.want) {
			t.Errorf("%q %s: exit %d, %q; want %q", c.list, c.flag, code, errs, c.want)
		}
	}
}

func TestBatchSeesSpanDrift(t *testing.T) {
	dir := t.TempDir()
	for i := range 7 {
		day := fmt.Sprintf("2026-0%d-01.csv", i+1)
		putCapture(t, filepath.Join(dir, "left door-"+day), fixtures.Spec{Fault: fixtures.SpanDrift, Severity: 1, Seed: 3, Controller: "bench-hand", Take: uint64(i), Before: 4 * float64(i), Duration: 40})
		putCapture(t, filepath.Join(dir, "right door-"+day), fixtures.Spec{Seed: 5, Controller: "bench-hand", Take: uint64(i), Duration: 40})
	}
	chart := filepath.Join(t.TempDir(), "chart.svg")
	table, _ := mustBatch(t, dir, "--chart", chart)
	if !strings.Contains(table, "left door: ") || !strings.Contains(table, "2 actuators tested, 1 drifting") {
		t.Errorf("the table does not show one drifting actuator of two:\n%s", table)
	}
	svg := slurp(t, chart)
	for _, want := range []string{"<svg", "left door", "more than chance"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the chart lacks %q", want)
		}
	}
}

// A folder that is not there is no capture that failed: nothing is judged and kept.
func TestBatchMisspeltFolder(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "shelf"), 0o755); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "o.jsonl")
	code, _, errs := call("", "batch", filepath.Join(dir, "shlf"), "--out", out)
	if code != exitUsage || !strings.Contains(errs, "no such file or folder") {
		t.Errorf("exit %d, %q", code, errs)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("a result was kept")
	}
}

// A capture alone has all the cores that were given to the run; captures side
// by side share them.
func TestParsersOfOneCapture(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(8))
	for _, c := range []struct{ workers, sets, want int }{
		{8, 1, 8}, {8, 3, 2}, {8, 8, 1}, {8, 1000, 1}, {2, 1, 2}, {1, 1, 1}, {20, 1, 8}, {4, 0, 4},
	} {
		o := batchFlags{workers: c.workers}
		if got := o.parsers(c.sets); got != c.want {
			t.Errorf("%d workers, %d sets: %d parsers, want %d", c.workers, c.sets, got, c.want)
		}
	}
}
