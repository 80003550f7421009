package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"threewire/plots"
)

// reportIn runs check in a folder of its own that holds two captures and the
// settings files of the tests.
func reportIn(t *testing.T, args string) (code int, stdout, stderr string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"a.csv":      drawCSV(),
		"b.csv":      drawCSV() + "\n", // not the same recording
		"good.txt":   "\ufeff# ours\r\n\r\nShop: Millbrook <Technical> College\r\n address:Mill Lane: gate 2\r\npaper: Letter\r\nstyle: mono\r\n",
		"word.txt":   "shop: x\n\n  Millbrook\n",
		"name.txt":   "papper: a4\n",
		"paper.txt":  "# x\npaper: a3\n",
		"style.txt":  "style: dark\n",
		"twice.txt":  "shop: x\nshop: y\n",
		"empty.txt":  "shop:\n",
		"binary.txt": "shop: \xff\xfe\n",
		"long.txt":   strings.Repeat("x", 100_000),
	} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, err bytes.Buffer
	code = check(context.Background(), strings.Fields(args), strings.NewReader(""), &out, &err)
	return code, out.String(), err.String()
}

func TestReportRefuses(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"a.csv --report r.txt", `extension ".txt" is unknown: expected .pdf or .html`},
		{"a.csv --report r", "--report r has no extension: expected .pdf or .html"},
		{"a.csv --report gone/r.pdf", "cannot write gone/r.pdf"},
		{"a.csv --report a.csv/r.pdf", "a.csv/r.pdf"},
		{"gone.csv --report gone/r.pdf", "cannot write gone/r.pdf"}, // before anything is read
		{"a.csv --report r.pdf --reference-volts inf", "--reference-volts +Inf: expected a positive voltage up to 16"},
		{"a.csv --report r.pdf --paper a3", `--paper "a3" is unknown: expected a4 or letter`},
		{"a.csv --report r.pdf --style dark", `--style "dark" is unknown: expected light or mono`},
		{"a.csv --report r.pdf --paper=", `--paper "" is unknown`},
		{"a.csv --report r.pdf --settings gone.txt", "--settings: open gone.txt"},
		{"a.csv --report r.pdf --settings .", "is this a settings file?"},
		{"a.csv --report r.pdf --settings word.txt", `word.txt:3:3: found "Millbrook", expected NAME: TEXT (example: shop: My shop)`},
		{"a.csv --report r.pdf --settings name.txt", `name.txt:1:1: "papper" is no setting: expected shop, address, paper or style`},
		{"a.csv --report r.pdf --settings paper.txt", `paper.txt:2:1: paper "a3" is unknown: expected a4 or letter`},
		{"a.csv --report r.pdf --settings style.txt", `style.txt:1:1: style "dark" is unknown: expected light or mono`},
		{"a.csv --report r.pdf --settings twice.txt", "twice.txt:2:1: shop was set in line 1 already"},
		{"a.csv --report r.pdf --settings empty.txt", "empty.txt:1:1: shop has no text"},
		{"a.csv --report r.pdf --settings binary.txt", "binary.txt:1:1: not UTF-8"},
		{"a.csv --report r.pdf --settings long.txt", "long.txt:1"},
		// A flag does not hide a broken file.
		{"a.csv --report r.pdf --settings paper.txt --paper a4", "paper.txt:2:1"},
		{"a.csv --shop x", "--shop belongs to a report: add --report"},
		{"a.csv --settings good.txt", "--settings belongs to a report"},
		{"a.csv --paper a4", "--paper belongs to a report"},
		{"gone.csv --report r.pdf", "gone.csv"},
		{"a.csv --drive 9 --report r.pdf", "9"},
	} {
		code, stdout, stderr := reportIn(t, c.args)
		if code != exitUsage || stdout != "" || !strings.HasPrefix(stderr, "threewire check: ") || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("check %s: exit %d, stdout %q, stderr %q; want exit 2 and one line with %q", c.args, code, stdout, stderr, c.want)
		}
		if left, err := filepath.Glob("r*"); err != nil || len(left) > 0 {
			t.Errorf("check %s: left behind %v", c.args, left)
		}
		if hidden, _ := filepath.Glob(".threewire-*"); len(hidden) > 0 {
			t.Errorf("check %s: left behind %v", c.args, hidden)
		}
	}
}

// A report must not replace what it was made from.
func TestReportKeepsItsInputs(t *testing.T) {
	t.Chdir(t.TempDir())
	texts := map[string]string{"a.html": drawCSV(), "s.html": "shop: x\n"}
	for name, text := range texts {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range texts {
		var out, err bytes.Buffer
		code := check(context.Background(), []string{"a.html", "--settings", "s.html", "--report", name}, strings.NewReader(""), &out, &err)
		if code != exitUsage || !strings.Contains(err.String(), "is one of the inputs") {
			t.Errorf("--report %s: exit %d, %q", name, code, err.String())
		}
		if got, _ := os.ReadFile(name); string(got) != text {
			t.Errorf("%s was changed", name)
		}
	}
}

// A report says what was checked, and when: today where no date is given, none where it is
// empty.
func TestReportJobAndDate(t *testing.T) {
	today := time.Now().Format("2 January 2006")
	for args, want := range map[string]struct{ has, lacks string }{
		"--job|order 12, left door":          {"order 12, left door", "nothing"},
		"--date|3 March 2026":                {"3 March 2026", today},
		"--date|":                            {"Actuator check", today},
		"--shop|Millbrook Technical College": {today, "order 12"},
	} {
		path := filepath.Join(t.TempDir(), "r.html")
		code, _, errs := call("", append([]string{"check", demo, "--report", path}, strings.SplitN(args, "|", 2)...)...)
		b, _ := os.ReadFile(path)
		if code != exitFault || !strings.Contains(string(b), want.has) || strings.Contains(string(b), want.lacks) {
			t.Errorf("%s: exit %d, %q; want %q and no %q", args, code, errs, want.has, want.lacks)
		}
	}
}

// An earlier report is only replaced where that is asked for, and the exit code and the
// text say so before anything is judged.
func TestReportKeepsAnEarlierOne(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.html")
	if err := os.WriteFile(path, []byte("of last week"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, errs := call("", "check", demo, "--report", path)
	if code != exitUsage || out != "" || !strings.Contains(errs, "exists: give another name, or --force") {
		t.Errorf("exit %d, %.40q, %q", code, out, errs)
	}
	if b, _ := os.ReadFile(path); string(b) != "of last week" {
		t.Error("the earlier report was changed")
	}
	if code, _, errs := call("", "check", demo, "--report", path, "--force"); code != exitFault {
		t.Errorf("--force: exit %d, %q", code, errs)
	}
	if b, _ := os.ReadFile(path); !strings.Contains(string(b), "<html") {
		t.Error("--force: the earlier report was not replaced")
	}
}

func TestReportSettings(t *testing.T) {
	for _, c := range []struct {
		args      string
		has, lack []string
		paper     string
	}{
		{"a.csv", []string{"Actuator check"}, []string{"Millbrook", "Coupled against free"}, "595.28 841.89"},
		{"a.csv --settings good.txt", []string{"Millbrook &lt;Technical&gt; College", "Mill Lane: gate 2", "#111111"}, []string{"#0072b2"}, "612.00 792.00"},
		{"a.csv --settings good.txt --shop Ours --paper A4 --style light", []string{"Ours", "Mill Lane: gate 2", "#0072b2"}, []string{"Millbrook"}, "595.28 841.89"},
		{"a.csv --settings good.txt --shop= --address=", []string{"Actuator check"}, []string{"Millbrook", "Mill Lane"}, "612.00 792.00"},
		{"a.csv --free b.csv --address Lane", []string{"Lane", "Coupled against free", "Coupled: a.csv"}, nil, "595.28 841.89"},
		{"a.csv --before b.csv", []string{"<h2>Repair", "Before against after", "After: a.csv", "Before the repair: b.csv"}, nil, "595.28 841.89"},
		{"a.csv --good-side b.csv", []string{"This side against good side", "This side: a.csv", "The healthy side: b.csv"}, nil, "595.28 841.89"},
	} {
		code, _, stderr := reportIn(t, c.args+" --report r.html")
		if code == exitUsage {
			t.Fatalf("check %s: %s", c.args, stderr)
		}
		h, err := os.ReadFile("r.html")
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range c.has {
			if !bytes.Contains(h, []byte(w)) {
				t.Errorf("check %s: the report lacks %q", c.args, w)
			}
		}
		for _, w := range c.lack {
			if bytes.Contains(h, []byte(w)) {
				t.Errorf("check %s: the report has %q", c.args, w)
			}
		}
		if code, _, stderr = reportIn(t, c.args+" --report r.pdf"); code == exitUsage {
			t.Fatalf("check %s: %s", c.args, stderr)
		}
		if p, err := os.ReadFile("r.pdf"); err != nil || !bytes.Contains(p, []byte("/MediaBox [0 0 "+c.paper+"]")) {
			t.Errorf("check %s: %v, no page of %s points", c.args, err, c.paper)
		}
	}
}

// The example in the help must itself be a settings file.
func TestReportHelpIsTrue(t *testing.T) {
	_, example, ok := strings.Cut(reportHelp, ":\n\n")
	if !ok {
		t.Fatal("the help has no example")
	}
	s, err := parseSettings(strings.NewReader(example), "help")
	if err != nil {
		t.Fatal(err)
	}
	want := settings{"Millbrook Technical College", "Training workshop, 12 Mill Lane, Millbrook", string(plots.Letter), string(plots.Mono)}
	if s != want {
		t.Errorf("got %+v, want %+v", s, want)
	}
}
