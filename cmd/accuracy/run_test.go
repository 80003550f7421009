package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/fixtures"
)

func TestRunRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--range", "broad"}, "narrow, wide or other"},
		{[]string{"--fault", "rust"}, "simulate --list"},
		{[]string{"--severity", "2"}, "0 to 1"},
		{[]string{"--seeds", "-1"}, "0 to 1000"},
		{[]string{"--list=some"}, "all or sure"},
		{[]string{"--list"}, "--first-seed below"},
		{[]string{"--cases", "x"}, "kept for judging"},
		{[]string{"--keep", "x"}, "--list"},
		{[]string{"--json", "--markdown"}, "choose one"},
		{[]string{"--floors", "--seeds", "2"}, "fixed"},
		{[]string{"--count", "5"}, "--foreign"},
		{[]string{"extra"}, "unexpected"},
	} {
		var errs bytes.Buffer
		if code := run(context.Background(), c.args, io.Discard, &errs); code != 2 || !strings.Contains(errs.String(), c.want) {
			t.Errorf("%v: ended with %d, said %q", c.args, code, errs.String())
		}
	}
}

// The full bench is as large as promised and no two of its cases share a seed,
// nor does any with what fitting may use.
func TestFullPlan(t *testing.T) {
	p := fullPlan()
	captures := 0
	seen := map[uint64]bool{}
	for _, rg := range fixtures.Ranges() {
		faults, least := map[fixtures.Fault]bool{}, 1.0
		kinds := map[string]int{}
		for _, c := range p.tasks(rg) {
			kinds[c.kind]++
			captures += len(c.specs)
			s := c.specs[0]
			faults[c.specs[len(c.specs)-1].Fault] = true
			least = min(least, s.Severity)
			if s.Seed < fitBelow || seen[s.Seed] {
				t.Fatalf("seed %d is used twice or open to fitting", s.Seed)
			}
			seen[s.Seed] = true
		}
		if len(faults) != len(fixtures.Faults()) || least > 0.05 || kinds[single] == 0 || kinds[pair] == 0 || kinds[later] == 0 {
			t.Errorf("%v: %d faults, least severity %v, kinds %v", rg, len(faults), least, kinds)
		}
	}
	if captures < 3000 {
		t.Errorf("%d captures", captures)
	}
}

// A few captures go through the whole bench into every form of report, twice
// the same.
func TestRunReports(t *testing.T) {
	dir := t.TempDir()
	args := []string{"--seeds", "1", "--first-seed", "1400", "--range", "other", "--severity", "0.9", "--extras", "1", "--fault", "jam", "--report", dir}
	var out, again bytes.Buffer
	if code := run(context.Background(), args, &out, io.Discard); code != 0 {
		t.Fatalf("ended with %d: %s", code, out.String())
	}
	for _, want := range []string{notice, "component right on decidable", "other (for robustness)", "open to fitting"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	run(context.Background(), args, &again, io.Discard)
	if out.String() != again.String() {
		t.Error("two runs differ")
	}
	for _, name := range []string{"reliability.png", "detection-other.png", "accuracy.txt"} {
		if st, err := os.Stat(filepath.Join(dir, name)); err != nil || st.Size() < 1000 {
			t.Errorf("%s: %v", name, err)
		}
	}
	b, err := os.ReadFile(filepath.Join(dir, "accuracy.json"))
	if err != nil {
		t.Fatal(err)
	}
	var s summary
	if err := json.Unmarshal(b, &s); err != nil {
		t.Fatal(err)
	}
	if s.Schema != schema || len(s.Ranges) != 1 || s.Ranges[0].All.Cases != 1+3+3+1 || s.Notice != notice {
		t.Errorf("%s with %d ranges, %d cases", s.Schema, len(s.Ranges), s.Ranges[0].All.Cases)
	}
	var table bytes.Buffer
	if err := s.markdown(&table, "2026-01-02"); err != nil || !strings.HasPrefix(table.String(), "2026-01-02, `") || !strings.Contains(table.String(), "| jam |") {
		t.Errorf("table %q, error %v", table.String(), err)
	}
}

func TestRunStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var errs bytes.Buffer
	if code := run(ctx, nil, io.Discard, &errs); code != 2 || !strings.Contains(errs.String(), "canceled") {
		t.Errorf("ended with %d: %s", code, errs.String())
	}
}
