package main

import (
	"encoding/csv"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// readTable returns the column of that name, in the order of the rows.
func readTable(t *testing.T, text string) map[string][]string {
	t.Helper()
	cells, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(cells) == 0 {
		t.Fatalf("%d lines of CSV, %v", len(cells), err)
	}
	table := map[string][]string{}
	for _, row := range cells[1:] {
		for i, name := range cells[0] {
			table[name] = append(table[name], row[i])
		}
	}
	return table
}

// The characters are those of "CSV Injection", OWASP,
// owasp.org/www-community/attacks/CSV_Injection (from memory).
func TestCSVCellsAreNoFormulas(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	names := []string{"=1+2.csv", "+cmd.csv", "-cmd.csv", "@sum.csv", "\ttab.csv", "\rreturn.csv", "\nline.csv", "\uff1dwide.csv", "plain.csv", "a=b.csv", "'quoted.csv"}
	for _, n := range names {
		put(t, n, "time,drive\n")
	}
	// Paths without a folder before them: a list on standard input.
	code, out, errs := runBatch(t, strings.Join(names, "\x00"), "-", "--null", "--csv", "-")
	if code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	table := readTable(t, out)
	for i, n := range names {
		if i < 8 {
			n = "'" + n
		}
		// The reader of encoding/csv gives "\r\n" as "\n"; a lone "\r" it leaves.
		if !slices.Contains(table["path"], n) {
			t.Errorf("no path %q in %q", n, table["path"])
		}
	}
	for name, column := range table {
		for _, cell := range column {
			if cell != "" && strings.ContainsRune("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20", []rune(cell)[0]) {
				t.Errorf("column %s: %q could be taken for a formula", name, cell)
			}
		}
	}
	low := -0.25
	row := &batchRow{Result: &batchResult{SpanLow: &low}}
	var b strings.Builder
	if err := writeBatchCSV(&b, []*batchRow{row}); err != nil {
		t.Fatal(err)
	}
	if got := readTable(t, b.String())["span_low"][0]; got != "-0.25" {
		t.Errorf("a negative voltage is written %q, want a number", got)
	}
}

func TestCSVComesRowByRow(t *testing.T) {
	dir, n := shelf(t)
	tmp := t.TempDir()
	out, sheet := filepath.Join(tmp, "o.jsonl"), filepath.Join(tmp, "o.csv")
	table, _ := mustBatch(t, dir, "--out", out, "--csv", sheet)
	want := slurp(t, sheet)
	// Fresh, resumed after an interruption, and with nothing to check.
	rows := slurp(t, out)
	for _, before := range []string{"", rows[:strings.IndexByte(rows, '\n')+10], rows} {
		put(t, out, before)
		got, errs := mustBatch(t, dir, "--out", out, "--csv", "-")
		if want := withoutWhole(t, want); got != want {
			t.Errorf("after %d bytes of rows: streamed table differs:\n%s\nwant\n%s", len(before), got, want)
		}
		if !strings.Contains(errs, table) {
			t.Errorf("the table is not on standard error: %q", errs)
		}
	}
	if got, _ := mustBatch(t, "--merge", out, "--csv", "-"); got != want {
		t.Error("merged table differs")
	}
	if code, _, errs := runBatch(t, "", dir, "--out", "-", "--csv", "-"); code != exitUsage || !strings.Contains(errs, "two places") {
		t.Errorf("both on standard output: exit %d, %q", code, errs)
	}
	// Each set is handed on before the next is done.
	w := &lineCounter{}
	live, err := newCSVTable(w, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range readOut(t, out)[:n] {
		if err := live.add([]*batchRow{r}); err != nil || w.lines != i+2 {
			t.Fatalf("after %d rows %d lines were written, %v", i+1, w.lines, err)
		}
	}
}

// withoutWhole is a table without its columns that take all rows.
func withoutWhole(t *testing.T, table string) string {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	n := len(csvColumns(nil))
	var b strings.Builder
	w := csv.NewWriter(&b)
	for _, r := range records {
		if len(r) != n+3 || r[0] == "path" && !slices.Equal(r[n:], []string{"counted", "counted_note", "drift"}) {
			t.Fatalf("a line has the fields %q", r)
		}
		if err := w.Write(r[:n]); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	return b.String()
}

type lineCounter struct{ lines int }

func (w *lineCounter) Write(p []byte) (int, error) {
	w.lines += strings.Count(string(p), "\n")
	return len(p), nil
}
