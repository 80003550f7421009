package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/fixtures"
)

// A file has one row, by a relative and by a whole path, in one run and over several.
func TestBatchOneRowByAnyPath(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	for i := range 3 {
		putCapture(t, fmt.Sprintf("st/d%d.csv", i), fixtures.Spec{Seed: uint64(i)})
	}
	whole := filepath.Join(dir, "st")
	one := filepath.Join(whole, "d1.csv")
	mustBatch(t, "st/d0.csv", "st/d1.csv", one, whole, "--out", "twice.jsonl")
	if rows := readOut(t, "twice.jsonl"); len(rows) != 3 {
		t.Errorf("named twice: %q", pathsOf(rows))
	}
	mustBatch(t, "st", "--out", "o.jsonl")
	table, errs := mustBatch(t, whole, "--out", "o.jsonl")
	if rows := readOut(t, "o.jsonl"); len(rows) != 3 || rows[0].Path != filepath.Join(whole, "d0.csv") || !strings.HasPrefix(table, "3 captures, 3 verdicts, 0") {
		t.Errorf("by whole paths: %q\n%s", pathsOf(rows), table)
	}
	if !strings.Contains(errs, "3 rows of the same files under other paths replaced") {
		t.Error(errs)
	}
	// A row of other bytes may be that of another folder's file: it stays.
	putCapture(t, one, fixtures.Spec{Seed: 9})
	mustBatch(t, "st", "--out", "o.jsonl")
	if rows := readOut(t, "o.jsonl"); len(rows) != 4 {
		t.Errorf("after a change: %q", pathsOf(rows))
	}
}

// Rows whose files are gone are named; rows of files that are there and were not named
// this time are none of these.
func TestBatchNamesRowsOfGoneFiles(t *testing.T) {
	t.Chdir(t.TempDir())
	for i := range 3 {
		putCapture(t, fmt.Sprintf("st/d%d.csv", i), fixtures.Spec{Seed: uint64(i)})
	}
	mustBatch(t, "st", "--out", "o.jsonl")
	if err := os.Remove("st/d1.csv"); err != nil {
		t.Fatal(err)
	}
	table, errs := mustBatch(t, "st/d0.csv", "--out", "o.jsonl")
	if !strings.HasPrefix(table, "3 captures") || !strings.Contains(errs, "1 row counted from earlier runs whose files are not there any more: st/d1.csv (") || strings.Contains(errs, "d2") {
		t.Errorf("%s\n%s", errs, table)
	}
	if _, errs := mustBatch(t, "st", "--out", "new.jsonl"); strings.Contains(errs, "not there any more") {
		t.Error(errs)
	}
}
