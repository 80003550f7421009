package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"threewire/fixtures"
)

// An interrupted run leaves any prefix of the file; going on must give the
// bytes of a whole run and check only what is missing.
func TestBatchResumesFromAnyPrefix(t *testing.T) {
	dir, _ := shelf(t)
	out := filepath.Join(t.TempDir(), "o.jsonl")
	mustBatch(t, dir, "--out", out)
	whole := slurp(t, out)
	var cuts []int
	for i, c := range whole {
		if c == '\n' {
			cuts = append(cuts, i, i+1)
		}
	}
	for _, cut := range []int{0, 1, 20, cuts[0], cuts[1], cuts[5] + 100, cuts[7], cuts[9] + 3, len(whole) - 1, len(whole)} {
		put(t, out, whole[:cut])
		mustBatch(t, dir, "--out", out, "--workers", "2")
		if slurp(t, out) != whole {
			t.Errorf("cut at byte %d of %d: resumed file differs from a whole run", cut, len(whole))
		}
	}
	_, errs := mustBatch(t, dir, "--out", out)
	// Empty and unreadable-as-capture files were read, so they hold too.
	if !strings.Contains(errs, "0 checked, 9 unchanged") {
		t.Errorf("a second run says %q, want nothing checked", errs)
	}
	// A power cut can leave zeros.
	put(t, out, whole[:cuts[3]]+strings.Repeat("\x00", 300))
	mustBatch(t, dir, "--out", out)
	if slurp(t, out) != whole {
		t.Error("zeros at the end: resumed file differs from a whole run")
	}
}

func TestBatchChecksChangedFilesAgain(t *testing.T) {
	dir, n := shelf(t)
	tmp := t.TempDir()
	out, fresh := filepath.Join(tmp, "o.jsonl"), filepath.Join(tmp, "fresh.jsonl")
	mustBatch(t, dir, "--out", out)
	before := readOut(t, out)
	putCapture(t, filepath.Join(dir, "Rig 2", "mode door-free-2026-03-01.csv"), fixtures.Spec{Seed: 30, Free: true})
	putCapture(t, filepath.Join(dir, "Rig 9", "empty.csv"), fixtures.Spec{Seed: 12})
	_, errs := mustBatch(t, dir, "--out", out)
	// The coupled partner's joined verdict depends on the free one.
	if !strings.Contains(errs, "3 checked, 6 unchanged") {
		t.Errorf("says %q, want the two changed files and a partner checked", errs)
	}
	mustBatch(t, dir, "--out", fresh)
	if slurp(t, out) != slurp(t, fresh) {
		t.Error("a resumed file differs from a fresh run on the changed folder")
	}
	after := readOut(t, out)
	if !slices.Equal(pathsOf(before), pathsOf(after)) || len(after) != n {
		t.Errorf("rows lost or doubled: %q", pathsOf(after))
	}
	// Other flags make other verdicts.
	if _, errs := mustBatch(t, dir, "--out", out, "--rail-band", "0.05"); !strings.Contains(errs, "9 checked") {
		t.Errorf("with another --rail-band it says %q, want all checked", errs)
	}
	// Rows of captures not named any more are kept.
	mustBatch(t, filepath.Join(dir, "Rig 1"), "--out", out)
	if got := readOut(t, out); len(got) != n {
		t.Errorf("a run on one folder left %d rows of %d", len(got), n)
	}
}

func TestBatchShardsMergeToOneRun(t *testing.T) {
	dir, n := shelf(t)
	tmp := t.TempDir()
	whole := filepath.Join(tmp, "whole.jsonl")
	wantTable, _ := mustBatch(t, dir, "--out", whole, "--csv", filepath.Join(tmp, "whole.csv"))
	var parts []string
	rows := 0
	for k := 1; k <= 4; k++ {
		p := filepath.Join(tmp, fmt.Sprintf("part-%d.jsonl", k))
		mustBatch(t, dir, "--shard", fmt.Sprintf("%d/4", k), "--out", p, "--quiet")
		rows += len(readOut(t, p))
		parts = append([]string{p}, parts...)
	}
	if rows != n {
		t.Errorf("the shards have %d rows, want %d", rows, n)
	}
	merged := filepath.Join(tmp, "merged.jsonl")
	args := append([]string{"--merge", "--out", merged, "--csv", filepath.Join(tmp, "merged.csv")}, parts...)
	table, _ := mustBatch(t, args...)
	if slurp(t, merged) != slurp(t, whole) {
		t.Error("merged rows differ from those of one run")
	}
	if slurp(t, filepath.Join(tmp, "merged.csv")) != slurp(t, filepath.Join(tmp, "whole.csv")) {
		t.Error("merged CSV differs from that of one run")
	}
	if table != wantTable {
		t.Errorf("merged table differs:\n%s\nwant\n%s", table, wantTable)
	}
	// A merged file is an output like any other.
	if _, errs := mustBatch(t, dir, "--out", merged); !strings.Contains(errs, "0 checked") {
		t.Errorf("resuming from the merged file says %q", errs)
	}

	putCapture(t, filepath.Join(dir, "Rig 1", "mode door-2026-03-01.csv"), fixtures.Spec{Seed: 40})
	other := filepath.Join(tmp, "other.jsonl")
	mustBatch(t, filepath.Join(dir, "Rig 1"), "--out", other)
	if code, _, errs := runBatch(t, "", "--merge", whole, other); code != exitUsage || !strings.Contains(errs, "different things") {
		t.Errorf("merging rows that contradict: exit %d, %q", code, errs)
	}
	put(t, other, slurp(t, whole)[:500])
	if code, _, errs := runBatch(t, "", "--merge", other); code != exitUsage || !strings.Contains(errs, "cut short") {
		t.Errorf("merging an interrupted part: exit %d, %q", code, errs)
	}
}

func TestBatchLock(t *testing.T) {
	dir, _ := shelf(t)
	out := filepath.Join(t.TempDir(), "o.jsonl")
	unlock, err := lockFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if code, _, errs := runBatch(t, "", dir, "--out", out); code != exitUsage || !strings.Contains(errs, "another run") {
		t.Errorf("second run on one output: exit %d, %q", code, errs)
	}
	unlock()
	mustBatch(t, dir, "--out", out)
	if _, err := os.Stat(out + ".lock"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the lock was left behind: %v", err)
	}
}

func TestBatchInterrupted(t *testing.T) {
	dir, n := shelf(t)
	out := filepath.Join(t.TempDir(), "o.jsonl")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	if code := batch(ctx, []string{dir, "--out", out}, strings.NewReader(""), &stdout, &stderr); code != exitUsage || !strings.Contains(stderr.String(), "run the same command again") {
		t.Errorf("exit %d, %q", code, stderr.String())
	}
	mustBatch(t, dir, "--out", out)
	if got := readOut(t, out); len(got) != n {
		t.Errorf("%d rows, want %d", len(got), n)
	}
}

// Whatever set fails to be written, those before it are handed over in order
// and none after it.
func TestRunSetsStopsAtAFailure(t *testing.T) {
	all := make([]batchSet, 200)
	for i := range all {
		all[i].key = fmt.Sprint(i)
	}
	full := errors.New("no space left")
	for _, at := range []int{0, 1, 57, 199} {
		var got []string
		err := runSets(context.Background(), all, 3,
			func(s *batchSet) []*batchRow { return []*batchRow{{Path: s.key}} },
			func(s *batchSet, rows []*batchRow) error {
				if len(got) == at {
					return full
				}
				got = append(got, rows[0].Path)
				return nil
			})
		if !errors.Is(err, full) {
			t.Errorf("failure at %d: error %v", at, err)
		}
		for i, g := range got {
			if g != all[i].key {
				t.Fatalf("failure at %d: set %d is %s", at, i, g)
			}
		}
		if len(got) != at {
			t.Errorf("failure at %d: %d sets handed over", at, len(got))
		}
	}
}
