package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/fixtures"
	"threewire/fixtures/foreign"
)

// The figures of a short run add up; a judge who always names the next fault
// does badly on the same captures.
func TestForeign(t *testing.T) {
	const n = 20
	captures := make([][]*analyze.Capture, n)
	res, err := judgeAll(context.Background(), n, func(i int) outcome {
		var o outcome
		o, captures[i] = examineForeign(1, i+1, false)
		return o
	})
	if err != nil {
		t.Fatal(err)
	}
	judged := func(judge func(...*analyze.Capture) *analyze.Report) (foreignRange, []outcome) {
		out := append([]outcome(nil), res...)
		for i := range out {
			if out[i].Refused == "" {
				out[i].take(&judge(captures[i]...).Verdict)
			}
		}
		return summariseForeign("narrow", 1, out), out
	}
	honest, list := judged(analyze.Judge)
	addsUp(t, honest, list)
	wrong, list := judged(func(c ...*analyze.Capture) *analyze.Report {
		r := analyze.Judge(c...)
		all := analyze.Faults()
		for i, f := range all {
			if r.Verdict.Conclusion == f {
				r.Verdict.Conclusion = all[(i+1)%len(all)]
				break
			}
		}
		return r
	})
	addsUp(t, wrong, list)
	if honest.all.Right.Rate < 0.5 || wrong.all.Right.Rate > honest.all.Right.Rate/2 || wrong.all.Alarm.Rate < 0.5 || wrong.stated.ECE.Value < 0.3 {
		t.Errorf("right %s (honest) and %s (wrong); wrong: false alarms %s, calibration error %v",
			honest.all.Right.of(), wrong.all.Right.of(), wrong.all.Alarm.of(), wrong.stated.ECE)
	}
}

// addsUp counts a report again from its cases.
func addsUp(t *testing.T, r foreignRange, list []outcome) {
	t.Helper()
	decidable, right, healthy, alarms, unsure, sure, sureWrong, said, cases := 0, 0, 0, 0, 0, 0, 0, 0, 0
	for _, o := range list {
		ok := false
		for _, a := range o.Acceptable {
			ok = ok || a == o.Said
		}
		if o.Decidable {
			decidable++
			if ok {
				right++
			}
		}
		if o.Component == fixtures.None {
			healthy++
			if o.Said != fixtures.None && o.Said != cannotTell {
				alarms++
			}
		}
		switch {
		case o.Said == cannotTell:
			unsure++
		case o.Probability >= 0.9:
			sure++
			if !ok {
				sureWrong++
			}
		}
	}
	for _, c := range []struct {
		name     string
		got      share
		hits, of int
	}{
		{"right", r.all.Right, right, decidable},
		{"right of both kinds", share{Hits: r.healthy.Right.Hits + r.faulty.Right.Hits, Of: r.healthy.Right.Of + r.faulty.Right.Of}, right, decidable},
		{"false alarms", r.all.Alarm, alarms, healthy},
		{"cannot tell", r.all.Unsure, unsure, len(list)},
		{"sure and wrong", r.all.SureWrong, sureWrong, sure},
		{"stated", share{Hits: r.named.Count + r.cleared.Count, Of: r.stated.Count}, len(list) - unsure, len(list) - unsure},
	} {
		if c.got.Hits != c.hits || c.got.Of != c.of {
			t.Errorf("%s: %s, counted %d of %d", c.name, c.got.of(), c.hits, c.of)
		}
	}
	for _, row := range r.said {
		for _, k := range row {
			said += k
		}
	}
	for _, g := range r.faults {
		cases += g.Cases
	}
	if said != len(list) || cases != len(list) || r.all.Failed != 0 {
		t.Errorf("%d cases: %d said, %d by fault, %d failed", len(list), said, cases, r.all.Failed)
	}
}

// Each of the author's components has a word of ours.
func TestForeignComponents(t *testing.T) {
	ours := map[string]bool{}
	for _, v := range verdicts() {
		ours[v] = true
	}
	names := []string{"none"}
	for _, f := range foreign.Catalogue() {
		names = append(names, f.Component)
	}
	for _, n := range names {
		if !ours[foreignComponent(n)] {
			t.Errorf("%q is %q, which no verdict says", n, foreignComponent(n))
		}
	}
}

// Two cases go through the command into text, table and single cases.
func TestRunForeign(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "cases.jsonl")
	args := []string{"--foreign", "--first-seed", "3"}
	var text, table bytes.Buffer
	// Two cases are examined at once: all that the race detector has to see of it.
	if code := run(context.Background(), append(args, "--count", "2", "--cases", file, "--list", "--keep", dir), &text, io.Discard); code != 0 {
		t.Fatalf("ended with %d: %s", code, text.String())
	}
	for _, want := range []string{notice, "narrow, seed 3 (open to developing): 2 cases", "wide, seed 4", "the same of the faulty", "faults named"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	for i := range 4 {
		var o outcome
		if err := d.Decode(&o); err != nil || o.Case != 1+i%2 || o.Seed != uint64(3+i/2) || o.Said == "" {
			t.Errorf("case %d: %+v, error %v", i, o, err)
		}
	}
	if code := run(context.Background(), append(args, "--count", "1", "--markdown", "--range", "narrow"), &table, io.Discard); code != 0 {
		t.Fatalf("ended with %d: %s", code, table.String())
	}
	for _, want := range []string{"| figure, foreign simulator | narrow, seed 3 (", "| component right on decidable |", "| verdict | stated | right | n |", "| open-spot |"} {
		if !strings.Contains(table.String(), want) {
			t.Errorf("the table lacks %q", want)
		}
	}
}

// What is kept of a case is what was judged.
func TestKeepForeign(t *testing.T) {
	dir := t.TempDir()
	if err := keepForeign(dir, 1, 3, false); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "foreign-1-c003")
	want := foreign.Make(1, 3, false).Data[0]
	if got, err := os.ReadFile(name + ".csv"); err != nil || !bytes.Equal(got, want) {
		t.Errorf("%d bytes, want %d; error %v", len(got), len(want), err)
	}
	if b, err := os.ReadFile(name + ".truth.json"); err != nil || !bytes.Contains(b, []byte(`"lost-reference"`)) {
		t.Errorf("truth %s, error %v", b, err)
	}
}

// The seeds kept for judging show no single case, and the help names them.
func TestForeignRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--list"}, "--first-seed below 900000"},
		{[]string{"--cases", "x", "--first-seed", "900001"}, "--first-seed below 900000"},
		{[]string{"--range", "other"}, "narrow or wide"},
		{[]string{"--count", "0"}, "1 to 100000"},
		{[]string{"--fault", "jam"}, "--foreign"},
		{[]string{"--json"}, "--foreign"},
	} {
		var errs bytes.Buffer
		args := append([]string{"--foreign"}, c.args...)
		if code := run(context.Background(), args, io.Discard, &errs); code != 2 || !strings.Contains(errs.String(), c.want) {
			t.Errorf("%v: ended with %d, said %q", args, code, errs.String())
		}
	}
	var help bytes.Buffer
	run(context.Background(), []string{"--help"}, &help, io.Discard)
	for _, seed := range []int{foreignOpen - 1, foreignJudged} {
		if !strings.Contains(help.String(), fmt.Sprint(seed)) {
			t.Errorf("the help does not name %d", seed)
		}
	}
}
