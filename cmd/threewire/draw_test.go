package main

import (
	"bytes"
	"context"
	"fmt"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/plots"
	"threewire/signal"
)

// drawCSV is a capture of a shaft that runs up and down between 0.5 and 4.5 V,
// 20 rows a second.
func drawCSV() string {
	var b strings.Builder
	b.WriteString("time (s),drive (V),feedback (V)\n")
	x, row := 0.5, 0
	for range 3 {
		for _, volts := range []float64{12, 0, -12, 0} {
			n := 110
			if volts == 0 {
				n = 20
			}
			for range n {
				x = math.Max(0.5, math.Min(4.5, x+volts/12*0.04))
				fmt.Fprintf(&b, "%.2f,%.2f,%.3f\n", float64(row)*0.05, volts, x+0.002*float64(row%3))
				row++
			}
		}
	}
	return b.String()
}

// drawIn runs draw in a folder of its own that holds a.csv and b.csv.
func drawIn(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for i, name := range []string{"a.csv", "b.csv", "c.csv"} {
		// No two are the same recording.
		if err := os.WriteFile(name, []byte(drawCSV()+strings.Repeat("\n", i)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile("notes.txt", []byte("3 2.5 half way\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("bad.txt", []byte("half way\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, err bytes.Buffer
	code = draw(context.Background(), args, strings.NewReader(drawCSV()), &out, &err)
	return code, out.String(), err.String()
}

func TestDrawWrites(t *testing.T) {
	for _, c := range []struct{ args, file, magic string }{
		{"a.csv", "a.png", "\x89PNG"},
		{"a.csv --out x.svg", "x.svg", "<?xml"},
		{"a.csv --out x.pdf --for handout --style mono", "x.pdf", "%PDF"},
		{"a.csv --out x.dat --format pdf", "x.dat", "%PDF"},
		{"a.csv --free b.csv -o x.svg", "x.svg", "<?xml"},
		{"a.csv --after b.csv -o x.svg", "x.svg", "<?xml"},
		{"a.csv b.csv c.csv -o x.svg", "x.svg", "<?xml"},
		{"- --format svg", "capture.svg", "<?xml"},
		{"a.csv --blank --notes notes.txt --title Exercise --caption Look --volts 0:5 --from 1 --to 9 --date 2026-03-09 -o x.svg", "x.svg", "<?xml"},
		{"a.csv --from 5 -o end.svg", "end.svg", "<?xml"},
		{"a.csv --to 5 -o start.svg", "start.svg", "<?xml"},
		{"a.csv --panel rate,sweeps -o x.svg", "x.svg", "<?xml"},
	} {
		code, stdout, stderr := drawIn(t, strings.Fields(c.args)...)
		if code != 0 || stderr != "" || stdout != "wrote "+c.file+"\n" {
			t.Errorf("draw %s: exit %d, stdout %q, stderr %q", c.args, code, stdout, stderr)
			continue
		}
		got, err := os.ReadFile(c.file)
		if err != nil || !bytes.HasPrefix(got, []byte(c.magic)) {
			t.Errorf("draw %s: %v, begins with %.8q, want %q", c.args, err, got, c.magic)
		}
	}
}

func TestDrawToStandardOutput(t *testing.T) {
	code, stdout, stderr := drawIn(t, "-", "--out", "-", "--format", "png", "--dpi", "40")
	if code != 0 {
		t.Fatalf("exit %d: %s", code, stderr)
	}
	if _, err := png.Decode(strings.NewReader(stdout)); err != nil {
		t.Errorf("standard output is no PNG: %v", err)
	}
}

func TestDrawRefuses(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"", "no capture given"},
		{"a.csv --out x.bmp", `extension "bmp" is unknown: expected .png, .svg, .pdf`},
		{"a.csv --out x", "is unknown"},
		{"a.csv --out -", "--out - needs --format"},
		{"a.csv --format gif", "--format"},
		{"a.csv --out gone/x.png", "cannot write gone/x.png"},
		{"a.csv --out b.csv/x.png", "b.csv/x.png"},
		{"a.csv --out b.csv --format png", "b.csv exists"},
		{"a.csv --out a.csv --format png --force", "is one of the inputs"},
		{"a.csv --notes notes.txt --out notes.txt --format png --force", "is one of the inputs"},
		{"a.csv --out . --format png", "is a directory"},
		{"a.csv --out x.png --format svg", "--format svg and --out x.png disagree"},
		{"a.csv --after a.csv -o x.png", "a.csv is given twice"},
		{"a.csv --free ./a.csv -o x.png", "a.csv and ./a.csv are one file"},
		{"a.csv a.csv c.csv -o x.png", "a.csv is given twice"},
		{"gone.csv --out gone/x.png", "cannot write gone/x.png"}, // before anything is read
		{"a.csv --reference-volts inf -o x.png", "--reference-volts"},
		{"a.csv --rail-band 0.7 -o x.png", "--rail-band"},
		{"a.csv --profile notes.txt -o x.png", "notes.txt:1"},
		{"a.csv --from 500 --to 600 -o x.png", "lies outside the capture"},
		{"a.csv --from 500 -o x.png", "lies outside the capture"},
		{"a.csv --from 5 --to 4 -o x.png", "--from and --to"},
		{"a.csv --panel hunt -o x.png", "no hunting was found in a.csv: nothing to draw"},
		{"a.csv --panel overlay -o x.png", "--free"},
		{"a.csv --panel compare -o x.png", "--after"},
		{"a.csv --panel pie -o x.png", "--panel"},
		{"a.csv --style neon -o x.png", "--style"},
		{"a.csv --for wall -o x.png", "--for"},
		{"a.csv --volts 5 -o x.png", "--volts"},
		{"a.csv --volts 5:1 -o x.png", "--volts"},
		{"a.csv --width 3 -o x.png", "--width"},
		{"a.csv --dpi 9999 -o x.png", "--dpi"},
		{"a.csv --reference-volts 0 -o x.png", "--reference-volts"},
		{"a.csv --notes bad.txt -o x.png", "bad.txt:1"},
		{"a.csv --notes gone.txt -o x.png", "gone.txt"},
		{"gone.csv -o x.png", "gone.csv"},
		{"notes.txt -o x.png", "notes.txt"},
		{"a.csv --drive 9 -o x.png", "9"},
		{"a.csv --bogus", "bogus"},
	} {
		code, stdout, stderr := drawIn(t, strings.Fields(c.args)...)
		if code != exitUsage || stdout != "" || !strings.HasPrefix(stderr, "threewire draw: ") || !strings.Contains(stderr, c.want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("draw %s: exit %d, stdout %q, stderr %q; want exit 2 and one line with %q", c.args, code, stdout, stderr, c.want)
		}
		left, err := filepath.Glob("*")
		if err != nil || len(left) != 5 {
			t.Errorf("draw %s: left behind %v", c.args, left)
		}
		if hidden, _ := filepath.Glob(".threewire-*"); len(hidden) > 0 {
			t.Errorf("draw %s: left behind %v", c.args, hidden)
		}
	}
}

// Draw refuses what check refuses.
func TestDrawTakesNoneForAnother(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{"door.csv": drawCSV(), "door-free.csv": drawCSV() + "\n", "copy.csv": drawCSV()} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct{ args, want string }{
		{"door-free.csv --free door.csv", "swap them"},
		{"door.csv --after door-free.csv", "no repair is proven off the door"},
		{"door.csv --free copy.csv", "door.csv and copy.csv are the same recording"},
		{"door.csv --after copy.csv", "are the same recording"},
	} {
		code, _, errs := call("", append(append([]string{"draw"}, strings.Fields(c.args)...), "-o", "x.svg")...)
		if code != exitUsage || !strings.Contains(errs, c.want) {
			t.Errorf("draw %s: exit %d, %q; want %q", c.args, code, errs, c.want)
		}
	}
	// A contact sheet weighs nothing against anything.
	if code, _, errs := call("", "draw", "door.csv", "door-free.csv", "copy.csv", "-o", "x.svg"); code != 0 {
		t.Errorf("exit %d, %s", code, errs)
	}
	// Beside a repair the uncoupled capture is drawn too.
	os.WriteFile("later.csv", []byte(drawCSV()+"\n\n"), 0o644)
	if code, _, errs := call("", "draw", "door.csv", "--after", "later.csv", "--free", "door-free.csv", "--panel", "overlay", "-o", "z.svg"); code != 0 {
		t.Errorf("exit %d, %s", code, errs)
	}
}

func TestDrawHelp(t *testing.T) {
	code, stdout, _ := drawIn(t, "--help")
	for _, want := range []string{"Usage: threewire draw", "overlay", "--blank", "--notes", "--drive"} {
		if code != 0 || !strings.Contains(stdout, want) {
			t.Errorf("help: exit %d, lacks %q", code, want)
		}
	}
}

func TestWriteReport(t *testing.T) {
	tr, err := signal.Read(strings.NewReader(drawCSV()), signal.Options{Source: "a.csv"})
	if err != nil {
		t.Fatal(err)
	}
	c, err := analyze.Examine(tr, analyze.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	j, dir := &judged{report: analyze.Judge(c), traces: []*signal.Trace{tr}}, t.TempDir()
	for _, name := range []string{"r.pdf", "r.html", "R.HTM"} {
		path := filepath.Join(dir, name)
		for range 2 { // the second replaces the first
			if err := writeReport(path, true, j, plots.ReportOptions{Shop: "Millbrook Technical College", Date: "9 March 2026"}); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		if b, err := os.ReadFile(path); err != nil || len(b) < 5000 {
			t.Errorf("%s: %v, %d bytes", name, err, len(b))
		}
	}
	for _, name := range []string{"r.txt", "r", "gone/r.pdf"} {
		if err := writeReport(filepath.Join(dir, name), true, j, plots.ReportOptions{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) != 3 {
		t.Errorf("left behind %v", left)
	}
}

// The answer to an exercise has the truth that stands beside its capture, with the place
// in its unit; without one it says that what it shows is what the program finds.
func TestDrawAnswerHasTruth(t *testing.T) {
	dir := t.TempDir()
	path, svg := filepath.Join(dir, "x.csv"), filepath.Join(dir, "x.svg")
	if code, _, errs := runSimulate("--fault", "jam", "--severity", "0.9", "--seed", "4", "--controller", "bench-hand", "--instrument", "data-recorder", "--duration", "60", "-o", path); code != 0 {
		t.Fatal(errs)
	}
	picture := func() string {
		t.Helper()
		var out, errs bytes.Buffer
		if code := draw(context.Background(), []string{"--answer", "--force", "-o", svg, path}, nil, &out, &errs); code != 0 {
			t.Fatalf("exit %d: %s", code, &errs)
		}
		return slurp(t, svg)
	}
	answer := strings.ReplaceAll(picture(), "\u00a0", " ")
	for _, want := range []string{"Truth: door mechanism (jam)", "In truth: ", " % of the travel (", "The program finds: "} {
		if !strings.Contains(answer, want) {
			t.Errorf("the answer lacks %q", want)
		}
	}
	truth := filepath.Join(dir, "x.truth.json")
	if err := os.WriteFile(truth, []byte(`{"schema":"another"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if code := draw(context.Background(), []string{"--answer", "--force", "-o", svg, path}, nil, &out, &errs); code != exitUsage || !strings.Contains(errs.String(), "is no truth file") {
		t.Errorf("a truth file of another kind: exit %d: %s", code, &errs)
	}
	if err := os.Remove(truth); err != nil {
		t.Fatal(err)
	}
	if got := picture(); strings.Contains(got, "Truth: ") || !strings.Contains(got, "The truth is not known here") {
		t.Error("without a truth file the answer does not say that it has none")
	}
}

// More captures than a sheet holds are refused before any is read.
func TestDrawRefusesTooManyAtOnce(t *testing.T) {
	var args []string
	for i := range plots.MaxFigures + 1 {
		args = append(args, fmt.Sprintf("no-such-%d.csv", i))
	}
	var out, errs bytes.Buffer
	if code := draw(context.Background(), append(args, "-o", filepath.Join(t.TempDir(), "s.png")), nil, &out, &errs); code != exitUsage || !strings.Contains(errs.String(), "61 captures do not fit on one page: at most 60") {
		t.Errorf("exit %d: %s", code, &errs)
	}
}
