package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"threewire/signal"
)

// loggedRows is a minute at 10 Hz with the motor driven to and fro.
func loggedRows() string {
	var b strings.Builder
	for i := range 600 {
		t, d, v := float64(i)/10, 12.0, 1+float64(i%100)*0.03
		if i/100%2 == 1 {
			d, v = -12, 4-float64(i%100)*0.03
		}
		fmt.Fprintf(&b, "%.1f;%.2f;%.3f\n", t, d, v)
	}
	return b.String()
}

func runColumns(stdin string, args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = columns(context.Background(), args, strings.NewReader(stdin), &o, &e)
	return code, o.String(), e.String()
}

func TestColumns(t *testing.T) {
	text := "Sample rate: 10 Hz\nTime (s);CH1 (V);CH2 (V)\n" + loggedRows()
	path := filepath.Join(t.TempDir(), "rig3.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errs := runColumns("", path)
	if code != 0 || errs != "" {
		t.Fatalf("exit %d, %s", code, errs)
	}
	for _, want := range []string{
		path + `: UTF-8, LF line ends, semicolon between cells, decimal "."`,
		"data from line 3, names in line 2, 600 rows",
		"preamble line 1: Sample rate = 10 Hz, taken as sample rate",
		"time from column 1 (named as time and in a unit of time): step 0.1 s (10 Hz), even, from 0 to 59.9 s",
		"2  CH1   V     -12   12    0        drive     switches between levels of both signs",
		"3  CH2   V     1     4     0        feedback  the only column that moves without switching",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("lacks %q in\n%s", want, out)
		}
	}

	code, out2, _ := runColumns(text, "-")
	if code != 0 || strings.Replace(out2, "-:", path+":", 1) != out {
		t.Errorf("standard input reads otherwise:\n%s", out2)
	}
}

// Nothing in a file may steer the terminal.
func TestColumnsShowsNoControls(t *testing.T) {
	text := "Title,\x1b[2Jgone\ntime,drive\x1b[31m (\x07V),feedback,\x1b]0;x\x07\n" + strings.ReplaceAll(strings.ReplaceAll(loggedRows(), ";", ","), "\n", ",0\n")
	code, out, errs := runColumns(text, "-")
	if code != 0 || strings.ContainsFunc(out, func(r rune) bool { return r < ' ' && r != '\n' || r == 0x7f }) {
		t.Errorf("exit %d, %s: %q", code, errs, out)
	}
}

func TestColumnsJSON(t *testing.T) {
	code, out, errs := runColumns("drive;feedback\n"+strings.ReplaceAll(loggedRows(), ".", ","), "--json", "--time", "1", "--drive=2", "--feedback", "3", "--scale", "drive=10", "-")
	if code != 0 {
		t.Fatal(errs)
	}
	var l signal.Layout
	d := json.NewDecoder(strings.NewReader(out))
	d.DisallowUnknownFields()
	if err := d.Decode(&l); err != nil {
		t.Fatal(err)
	}
	if l.DecimalMark != "," || l.Rows != 600 || l.Problem != "" || l.Columns[1].Role != "drive" || *l.Columns[1].Max != 120 || l.Columns[1].Reason != "named by --drive" {
		t.Errorf("%+v", l)
	}
}

// A factor by a column's name, which may hold a sign of equality itself.
func TestScaleFlagByColumn(t *testing.T) {
	f := addReadFlags(pflag.NewFlagSet("columns", pflag.ContinueOnError))
	f.scale = []string{"Motor A (V)=10", "pot (5V = hot)=2", "Lead B=0.1"}
	o, err := f.options("x.csv")
	if err != nil || o.ScaleColumns["Motor A (V)"] != 10 || o.ScaleColumns["pot (5V = hot)"] != 2 || o.Scale[signal.LeadB] != 0.1 {
		t.Errorf("by column %v, by role %v, error %v", o.ScaleColumns, o.Scale, err)
	}
}

func TestColumnsFails(t *testing.T) {
	good := "time;drive;feedback\n" + loggedRows()
	for _, c := range []struct {
		name, stdin string
		args        []string
		want        string
	}{
		{"no file", "", nil, "expected one FILE"},
		{"two files", "", []string{"a", "b"}, "got 2 arguments"},
		{"unknown flag", "", []string{"--colour", "-"}, "--colour"},
		{"missing file", "", []string{"no-such-file.csv"}, "no-such-file.csv: no such file"},
		{"directory", "", []string{t.TempDir()}, "is a directory"},
		{"empty input", "", []string{"-"}, "empty"},
		{"zero rate", good, []string{"--rate", "0", "-"}, "--rate: 0 Hz: expected a positive"},
		{"scale without role", good, []string{"--scale", "10", "-"}, "expected ROLE=FACTOR"},
		{"scale of no role and no column", good, []string{"--scale", "door=10", "-"}, "no column has this name; roles are time, drive"},
		{"feedback turned by factor", good, []string{"--scale", "feedback=-1", "-"}, "needs no factor"},
		{"scale of zero", good, []string{"--scale", "drive=0", "-"}, "expected a factor such as 10 or 0.001, from 1e-12 to 1e12"},
		{"empty name", good, []string{"--drive", "", "-"}, "--drive: expected a column name or number"},
		{"unknown column", good, []string{"--drive", "motor", "-"}, `no column has this name; the file has columns 1..3: 1 "time", 2 "drive"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, errs := runColumns(c.stdin, c.args...)
			if code != 2 || out != "" || !strings.Contains(errs, c.want) || !strings.HasPrefix(errs, "threewire columns: ") || strings.Count(errs, "\n") != 1 {
				t.Errorf("exit %d, stdout %q, stderr %q; want %q", code, out, errs, c.want)
			}
		})
	}
}

func TestColumnsStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var o, e bytes.Buffer
	if code := columns(ctx, []string{"-"}, strings.NewReader("time,drive,feedback\n"), &o, &e); code != 2 || !strings.Contains(e.String(), "interrupted") {
		t.Errorf("exit %d, %s", code, e.String())
	}
}

func TestColumnsHelp(t *testing.T) {
	code, out, errs := runColumns("", "--help")
	if code != 0 || errs != "" {
		t.Fatalf("exit %d, %s", code, errs)
	}
	for _, f := range []string{"--time", "--drive", "--lead-a", "--lead-b", "--feedback", "--reference", "--supply", "--current", "--command", "--rate HZ", "--scale ROLE=FACTOR", "--json"} {
		if !strings.Contains(out, f) {
			t.Errorf("help lacks %s", f)
		}
	}
}
