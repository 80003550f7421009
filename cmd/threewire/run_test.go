package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var regen = flag.Bool("regen", false, "rewrite the golden files")

// call runs the program as a user would and returns what it printed.
func call(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(stdin), &out, &errs)
	return code, out.String(), errs.String()
}

// golden compares a result with its recorded form.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *regen {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run go test ./cmd/threewire -regen after looking at it\n--- want\n%s\n--- got\n%s", path, want, got)
	}
}

// The help of the program and of every command is part of the interface.
func TestHelp(t *testing.T) {
	code, out, errs := call("", "--help")
	if code != 0 || errs != "" {
		t.Fatalf("--help ended with %d and said %q", code, errs)
	}
	golden(t, "help.txt", out)
	for _, c := range commands() {
		if !strings.Contains(out, c.name) {
			t.Errorf("--help does not name %s", c.name)
		}
		code, text, errs := call("", c.name, "--help")
		if code != 0 || errs != "" || !strings.Contains(text, "Usage: threewire "+c.name) {
			t.Errorf("%s --help ended with %d, said %q and %q", c.name, code, text, errs)
		}
	}
}

// truth is what a test needs of a truth file.
type truth struct {
	Component  string
	Decidable  bool
	Acceptable []string
}

func demoCaptures(t *testing.T) map[string]truth {
	t.Helper()
	paths, err := filepath.Glob("../../fixtures/captures/*.truth.json")
	if err != nil || len(paths) < 14 {
		t.Fatalf("found %d truth files (%v), expected at least 14", len(paths), err)
	}
	out := map[string]truth{}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		var tr truth
		if err := json.Unmarshal(b, &tr); err != nil {
			t.Fatalf("%s: %v", p, err)
		}
		base := strings.TrimSuffix(p, ".truth.json")
		found, err := filepath.Glob(base + ".*")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			if !strings.HasSuffix(f, ".truth.json") {
				out[f] = tr
			}
		}
	}
	return out
}

// Every shipped capture gets its truth: the component where the capture
// decides it, else one that a careful reader may name, or "cannot tell".
func TestDemoCapturesGetTheirTruth(t *testing.T) {
	said := map[string]int{}
	for path, tr := range demoCaptures(t) {
		code, out, errs := call("", "check", "--json", path)
		if errs != "" {
			t.Errorf("%s: %s", path, errs)
			continue
		}
		var rep struct {
			Schema  string
			Verdict struct {
				Conclusion  string
				Probability float64
			}
		}
		if err := json.Unmarshal([]byte(out), &rep); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		got := rep.Verdict.Conclusion
		said[got]++
		if got == "no fault" {
			got = "none"
		}
		wantCode := map[string]int{"none": exitNoFault, "cannot tell": exitCannotTell}
		want, special := wantCode[got]
		if !special {
			want = exitFault
		}
		if code != want {
			t.Errorf("%s: said %q but ended with %d", path, got, code)
		}
		ok := got == "cannot tell" && !tr.Decidable
		for _, a := range tr.Acceptable {
			ok = ok || got == a
		}
		if !ok {
			t.Errorf("%s: said %q (%.2f), the truth is %q (decidable %v, acceptable %q)", path, got, rep.Verdict.Probability, tr.Component, tr.Decidable, tr.Acceptable)
		}
		if !strings.HasPrefix(rep.Schema, "threewire-report/") {
			t.Errorf("%s: schema %q", path, rep.Schema)
		}
	}
	for _, v := range []string{"no fault", "feedback sensor", "motor", "door mechanism", "wiring or control", "cannot tell"} {
		if said[v] == 0 {
			t.Errorf("no demo capture shows the verdict %q: %v", v, said)
		}
	}
}

const demo = "../../fixtures/captures/rig3-left-temperature-door-dead-spot.csv"

// The text for a person, word for word.
func TestCheckText(t *testing.T) {
	code, out, errs := call("", "check", demo)
	if code != exitFault || errs != "" {
		t.Fatalf("ended with %d, said %q", code, errs)
	}
	golden(t, "check-dead-spot.txt", out)
	if strings.Contains(out, "\x1b") {
		t.Error("colour went to something that is no terminal")
	}
}

// Standard input, gzip and the file itself give the same verdict.
func TestCheckSources(t *testing.T) {
	raw, err := os.ReadFile(demo)
	if err != nil {
		t.Fatal(err)
	}
	_, want, _ := call("", "check", "--brief", demo)
	code, got, errs := call(string(raw), "check", "--brief", "-")
	if code != exitFault || got != want {
		t.Errorf("standard input: %d %q %q, want %q", code, got, errs, want)
	}
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write(raw)
	z.Close()
	path := filepath.Join(t.TempDir(), "a capture.csv.gz")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, got, errs := call("", "check", "--brief", path); code != exitFault || got != want {
		t.Errorf("gzip: %d %q %q, want %q", code, got, errs, want)
	}
}

// Same input, same bytes.
func TestCheckRepeats(t *testing.T) {
	_, a, _ := call("", "check", "--json", demo)
	_, b, _ := call("", "check", "--json", demo)
	if a != b {
		t.Error("two runs on the same file differ")
	}
}

// Wrong use and unreadable input: one line that names the place and the way
// out, exit 2, nothing on standard output.
func TestBadInput(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	rows := func(n int, row string) string { return strings.Repeat(row, n) }
	var cut bytes.Buffer
	z := gzip.NewWriter(&cut)
	z.Write([]byte("time,drive,feedback\n" + rows(5000, "1,2,3\n")))
	z.Close()
	cases := map[string]struct {
		args []string
		want string
	}{
		"no command":        {[]string{}, "Usage"},
		"unknown command":   {[]string{"chek"}, "chek"},
		"no file":           {[]string{"check"}, "no capture given"},
		"unknown flag":      {[]string{"check", "--driv", "2", "x.csv"}, "driv"},
		"missing file":      {[]string{"check", filepath.Join(dir, "nowhere.csv")}, "nowhere.csv"},
		"empty":             {[]string{"check", file("empty.csv", "")}, "empty"},
		"prose":             {[]string{"check", file("prose.csv", "the door clicks\nand hunts\n")}, "prose.csv"},
		"one column":        {[]string{"check", file("one.csv", "v\n1\n2\n3\n")}, "one.csv"},
		"ragged":            {[]string{"check", file("ragged.csv", "time,drive,feedback\n"+rows(50, "1,12,3\n")+"1,12\n"+rows(50, "1,12,3\n"))}, "ragged.csv:52"},
		"directory":         {[]string{"check", dir}, "directory"},
		"binary":            {[]string{"check", file("b.bin", "\x00\x01\x02\xff\xfe"+rows(100, "\x00\x07"))}, "b.bin"},
		"truncated gzip":    {[]string{"check", file("cut.csv.gz", cut.String()[:cut.Len()/2])}, "cut.csv.gz"},
		"bad reference":     {[]string{"check", "--reference-volts", "-1", demo}, "--reference-volts"},
		"bad scale":         {[]string{"check", "--scale", "drive", demo}, "scale"},
		"unknown column":    {[]string{"check", "--drive", "motor", demo}, "motor"},
		"report extension":  {[]string{"check", "--report", "x.doc", demo}, ".doc"},
		"shop, no report":   {[]string{"check", "--shop", "x", demo}, "--report"},
		"job, no report":    {[]string{"check", "--job", "x", demo}, "--job belongs to a report"},
		"force, no report":  {[]string{"check", "--force", demo}, "--force belongs to a report"},
		"draw nothing":      {[]string{"draw"}, "no capture"},
		"draw extension":    {[]string{"draw", "--out", filepath.Join(dir, "x.bmp"), demo}, ".bmp"},
		"simulate no fault": {[]string{"simulate", "--fault", "gremlin", "--out", filepath.Join(dir, "g.csv")}, "gremlin"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			code, out, errs := call("", c.args...)
			if code != exitUsage {
				t.Errorf("ended with %d, expected %d (%q)", code, exitUsage, errs)
			}
			if out != "" {
				t.Errorf("printed %q on standard output", out)
			}
			if !strings.Contains(errs, c.want) {
				t.Errorf("said %q, expected it to name %q", errs, c.want)
			}
			if n := strings.Count(strings.TrimSpace(errs), "\n"); c.want != "Usage" && n > 0 {
				t.Errorf("said %d lines, expected one: %q", n+1, errs)
			}
		})
	}
}
