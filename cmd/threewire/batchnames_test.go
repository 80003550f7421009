package main

import (
	"path/filepath"
	"strings"
	"testing"

	"threewire/fixtures"
)

func TestImpossibleDate(t *testing.T) {
	for path, want := range map[string]bool{
		"mode-door-2026-04-31.csv":              true,
		"Mode-Door-2026-13-45.csv":              true,
		"left-2026-02-30-free.csv.gz":           true,
		"left_2026_02_30 14.30.txt":             true,
		"left-2026-04-30.csv":                   false,
		"left-2026-04-30-free.csv":              false,
		"0001-2026-05-05-before.csv":            false,
		"rig-12345678.csv":                      false, // a number
		"left-1234-56-78-2026-04-30.csv":        false,
		"free.csv":                              false,
		filepath.Join("2026-04-31", "left.csv"): true,
		filepath.Join("2026-04-30", "left.csv"): false,
	} {
		if got := impossibleDate(path); got != want {
			t.Errorf("%s: %v", path, got)
		}
	}
}

// A date that no calendar has is told, and so is an uncoupled capture that stands
// alone; one with its coupled capture is not.
func TestBatchTellsOfOddNames(t *testing.T) {
	dir := t.TempDir()
	free := fixtures.Spec{Seed: 4, Free: true}
	putCapture(t, filepath.Join(dir, "lone-free.csv"), free)
	free.Seed = 5
	putCapture(t, filepath.Join(dir, "pair-free.csv"), free)
	putCapture(t, filepath.Join(dir, "pair.csv"), fixtures.Spec{Seed: 5})
	table, errs := mustBatch(t, dir)
	flat := strings.Join(strings.Fields(table), " ")
	if !strings.Contains(flat, "nothing is known of the door - "+filepath.Join(dir, "lone-free.csv")) || strings.Contains(flat, "door - "+filepath.Join(dir, "pair")) {
		t.Errorf("the lone uncoupled capture is not told:\n%s", table)
	}
	if n := strings.Count(table, "(uncoupled only)"); n != 1 {
		t.Errorf("%d actuators known uncoupled only, want one:\n%s", n, table)
	}
	if errs := strings.TrimSpace(errs); strings.Contains(errs, "no such day") {
		t.Error(errs)
	}
	odd := filepath.Join(dir, "pair-2026-04-31.csv")
	putCapture(t, odd, fixtures.Spec{Seed: 6})
	if _, errs := mustBatch(t, dir); !strings.Contains(errs, "no such day, so taken for a part of the actuator's name: "+odd+"\n") {
		t.Errorf("says %q", errs)
	}
}
