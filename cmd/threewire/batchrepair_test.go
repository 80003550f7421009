package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/fixtures"
)

func TestBatchBeforeAndAfter(t *testing.T) {
	dir := t.TempDir()
	dead := fixtures.Spec{Seed: 1, Fault: fixtures.DeadMotor, Severity: 1}
	healthy := fixtures.Spec{Seed: 1, Duration: 40}
	// An earlier repair, and what has no phase, are not part of the proof.
	for i, c := range []struct {
		name string
		spec fixtures.Spec
	}{
		{"mode door-2026-01-01-after.csv", dead},
		{"mode door-2026-02-01.csv", healthy},
		{"mode door-2026-03-01-before.csv", dead},
		{"mode door-2026-03-08-after.csv", healthy},
		{"left door-2026-03-01-before.csv", dead},
		{"left door-2026-03-08-after.csv", dead},
		{"right door-2026-03-01-before.csv", dead},
	} {
		path := filepath.Join(dir, c.name)
		putCapture(t, path, c.spec)
		put(t, path, slurp(t, path)+strings.Repeat("\n", i)) // no copies of one another
	}
	tmp := t.TempDir()
	out := filepath.Join(tmp, "o.jsonl")
	table, _ := mustBatch(t, dir, "--out", out, "--csv", out+".csv")
	result := map[string]string{}
	conclusion := map[string]string{}
	for _, r := range readOut(t, out) {
		name := filepath.Base(r.Path)
		if r.Result == nil {
			t.Fatalf("%s: %s", name, r.Error)
		}
		conclusion[name] = r.Result.Conclusion
		if r.Repair != nil {
			result[name] = r.Repair.Result
			if r.Repair.Text == "" || r.Repair.Missed < 0 || r.Repair.Missed > 1 {
				t.Errorf("%s: %+v", name, r.Repair)
			}
		}
	}
	proven := string(analyze.RepairProven)
	for name, want := range map[string]string{
		"mode door-2026-01-01-after.csv": "", "mode door-2026-02-01.csv": "", "right door-2026-03-01-before.csv": "",
		"mode door-2026-03-01-before.csv": proven, "mode door-2026-03-08-after.csv": proven,
	} {
		if result[name] != want {
			t.Errorf("%s: %q, want %q", name, result[name], want)
		}
	}
	if r := result["left door-2026-03-08-after.csv"]; r == proven || r == "" {
		t.Errorf("a motor that is still dead: %q", r)
	}
	line := fmt.Sprintf("mode door: %s before, %s after: %s\n", conclusion["mode door-2026-03-01-before.csv"], conclusion["mode door-2026-03-08-after.csv"], proven)
	if !strings.Contains(table, line) {
		t.Errorf("the table lacks %q:\n%s", line, table)
	}
	if got := readTable(t, slurp(t, out+".csv"))["repair"]; !slices.Contains(got, proven) {
		t.Errorf("the CSV has repairs %q", got)
	}

	// A proof is of all its captures: one that changes takes the others along.
	putCapture(t, filepath.Join(dir, "mode door-2026-03-08-after.csv"), fixtures.Spec{Seed: 1, Take: 2, Duration: 40})
	if _, errs := mustBatch(t, dir, "--out", out); !strings.Contains(errs, "3 checked, 4 unchanged") {
		t.Errorf("says %q, want the captures of one actuator's repairs checked", errs)
	}
	// Shards keep it whole.
	var parts []string
	for k := 1; k <= 3; k++ {
		parts = append(parts, filepath.Join(tmp, fmt.Sprint(k)))
		mustBatch(t, dir, "--quiet", "--shard", fmt.Sprintf("%d/3", k), "--out", parts[k-1])
	}
	mustBatch(t, append([]string{"--merge", "--out", out + ".merged"}, parts...)...)
	if slurp(t, out+".merged") != slurp(t, out) {
		t.Error("merged rows differ from those of one run")
	}
}

// Pairs of several times stay apart within one actuator's repairs.
func TestBatchPairsBeforeAndAfter(t *testing.T) {
	dir := t.TempDir()
	for _, phase := range []string{"2026-03-01-before", "2026-03-08-after"} {
		s := fixtures.Spec{Seed: 1, Fault: fixtures.Jam, Severity: 0.8, Duration: 30}
		if strings.Contains(phase, "after") {
			s.Fault = fixtures.Healthy
		}
		putCapture(t, filepath.Join(dir, "door-"+phase+".csv"), s)
		s.Free = true
		putCapture(t, filepath.Join(dir, "door-"+phase+"-free.csv"), s)
	}
	out := filepath.Join(t.TempDir(), "o.jsonl")
	table, _ := mustBatch(t, dir, "--out", out)
	rows := readOut(t, out)
	if len(rows) != 4 || !strings.HasPrefix(table, "4 captures, 2 verdicts (2 sets coupled with free)") {
		t.Fatalf("%d rows, table %.90q", len(rows), table)
	}
	for _, r := range rows {
		if r.Joined == nil || r.Repair == nil || r.Set != filepath.Join(dir, "door") || !strings.HasPrefix(r.Occasion, r.Set+"-2026-03-0") {
			t.Errorf("%s: joined %v, repair %v, set %q, occasion %q", r.Path, r.Joined, r.Repair, r.Set, r.Occasion)
		}
	}
	if rows[0].Joined == nil || rows[2].Joined == nil || rows[0].Joined.Summary == rows[2].Joined.Summary {
		t.Error("before and after the repair have the same verdict")
	}
}
