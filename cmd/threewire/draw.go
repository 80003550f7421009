package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/plots"
)

const drawUsage = `Usage: threewire draw [flags] FILE...

Draws a capture with what was found in it. The extension of --out decides the
format: .png, .svg or .pdf. One FILE gives the panels that have something to
show; --free adds the uncoupled run, --after the run after a repair; several
files, at most 60, give a contact sheet. With --answer it has the letters of the
blank one. A remark in a single FILE that the actuator was taken off its door
makes a coupled and an uncoupled run of it, as in check. "-" reads standard
input.

  threewire draw left-door.csv
  threewire draw left-door.csv --free left-door-free.csv --out door.pdf
  threewire draw before.csv --after after.csv --for slide --style dark
  threewire draw --blank --title "Exercise 3" left-door.csv --out exercise.pdf
  threewire draw --answer --title "Exercise 3" left-door.csv --out answer.pdf
  threewire draw --panel contact --out sheet.pdf captures/*.csv

Panels:
`

const drawNotesHelp = `
A file of notes has one note a line: time in s, volts, text.

  12.5 3.2 jumps here each time
  # a remark

Exit codes: 0 drawn, 2 wrong use, unreadable input or nothing to draw.

Flags:
`

// drawFlags are the flags of the draw command.
type drawFlags struct {
	out, format, style, use, title, caption, notes, volts, date string
	free, after, panels                                         []string
	from, to, width, height                                     float64
	dpi                                                         int
	blank, answer, force                                        bool
	fs                                                          *pflag.FlagSet
}

func addDrawFlags(fs *pflag.FlagSet) *drawFlags {
	f := &drawFlags{fs: fs}
	fs.StringVarP(&f.out, "out", "o", "", "`FILE` to write (.png, .svg, .pdf; - is standard output; default: the capture's name with .png, here)")
	fs.StringVar(&f.format, "format", "", "png, svg or pdf, when --out does not tell")
	fs.StringSliceVar(&f.panels, "panel", []string{"auto"}, "`NAMES` of panels, joined by commas")
	fs.StringArrayVar(&f.free, "free", nil, "`FILE` of the same actuator uncoupled from its door")
	fs.StringArrayVar(&f.after, "after", nil, "`FILE` taken after the repair")
	fs.BoolVar(&f.blank, "blank", false, "no annotations: the exercise to the answer that --answer draws; panels and room are the same whatever was found")
	fs.BoolVar(&f.answer, "answer", false, "the answer to an exercise, on the axes of --blank: the truth where NAME.truth.json stands beside the capture, and what the program finds")
	fs.StringVar(&f.style, "style", "light", "`STYLE`: light, dark or mono (black and white)")
	fs.StringVar(&f.use, "for", "screen", "`USE`: screen, slide, print or handout; sets size, resolution and type")
	fs.Float64Var(&f.width, "width", 0, "page width in `MM`")
	fs.Float64Var(&f.height, "height", 0, "page height in `MM`")
	fs.IntVar(&f.dpi, "dpi", 0, "`DOTS` per inch of a PNG")
	fs.Float64Var(&f.from, "from", 0, "draw from this time, in `S` (default: from the start)")
	fs.Float64Var(&f.to, "to", 0, "draw to this time, in `S` (default: to the end)")
	fs.StringVar(&f.volts, "volts", "", "fix the feedback axis, as `LOW:HIGH` volts")
	fs.StringVar(&f.title, "title", "", "`TEXT` over the picture (default: the file's name)")
	fs.StringVar(&f.caption, "caption", "", "`TEXT` under the picture")
	fs.StringVar(&f.notes, "notes", "", "`FILE` of hand-written notes")
	fs.StringVar(&f.date, "date", "", "`TEXT` of a date in the corner (default: none)")
	fs.BoolVar(&f.force, "force", false, "replace the file if it exists")
	return f
}

// draw draws captures.
func draw(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("draw", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.SortFlags = false
	f := addDrawFlags(fs)
	jf := addJudgeFlags(fs)
	jf.addProfileFlag()
	rf := addReadFlags(fs)
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire draw: %v\n", err)
		return exitUsage
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, drawUsage)
			for _, p := range plots.Panels() {
				fmt.Fprintf(stdout, "  %-8s %s\n", p[0], p[1])
			}
			fmt.Fprint(stdout, drawNotesHelp+flagHelp(fs))
			return 0
		}
		return fail(flagError(fs, err))
	}
	if fs.NArg() == 0 {
		return fail(errors.New("no capture given: expected threewire draw FILE (see threewire draw --help)"))
	}
	o, format, err := f.options()
	if err != nil {
		return fail(err)
	}
	opt, err := jf.options()
	if err != nil {
		return fail(err)
	}
	paths := slices.Concat(fs.Args(), f.free, f.after)
	if len(paths) > plots.MaxFigures { // before they are all read
		return fail(fmt.Errorf("%d captures do not fit on one page: at most %d", len(paths), plots.MaxFigures))
	}
	if f.out != "-" { // whatever --force says, no capture, profile or notes are written over
		if err := checkTarget(f.out, f.force, slices.Concat(paths, []string{f.notes, jf.profile})); err != nil {
			return fail(fmt.Errorf("--out %w", err))
		}
	}
	if err := onlyOnce(paths); err != nil {
		return fail(err)
	}
	// An exercise is of the file, and on a sheet of several each has one picture.
	opt.Whole = opt.Whole || f.blank || f.answer || len(paths) > 1
	figs, err := f.read(opt, func(seen recordings, path string, o analyze.Options) (*analyze.Parts, error) {
		return examineFile(ctx, path, stdin, rf, seen, o)
	})
	if err != nil {
		return fail(err)
	}
	figs = withinWindow(figs, o.Window)
	if f.answer {
		if err := addTruths(figs); err != nil {
			return fail(err)
		}
	}
	write := func(w io.Writer) error { return plots.Draw(w, format, figs, o) }
	if f.out == "-" {
		// Whole or not at all holds for a pipe too.
		if err := printWhole(stdout, write); err != nil {
			return fail(err)
		}
		return 0
	}
	if err := writeAtomic(f.out, f.force, write); err != nil {
		return fail(err)
	}
	fmt.Fprintf(stdout, "wrote %s\n", f.out)
	return 0
}

// withinWindow leaves out parts of a file that lie outside of the stretch of time asked for,
// unless none is left then.
func withinWindow(figs []plots.Figure, window *analyze.Interval) []plots.Figure {
	if window == nil || len(figs) < 2 {
		return figs
	}
	left := slices.DeleteFunc(slices.Clone(figs), func(f plots.Figure) bool {
		t := f.Trace.Time
		return t[len(t)-1] < window.From || t[0] > window.To
	})
	if len(left) == 0 {
		return figs
	}
	return left
}

// addTruths gives each capture the truth that stands beside it.
func addTruths(figs []plots.Figure) error {
	for i := range figs {
		t, err := readTruth(figs[i].Trace.Source)
		if err != nil {
			return err
		}
		if t != nil {
			figs[i].Truth = toldTruth(t)
		}
	}
	return nil
}

// options checks everything that can be checked before a file is opened.
func (f *drawFlags) options() (plots.Options, string, error) {
	o := plots.Options{
		Style: plots.Style(f.style), Use: plots.Use(f.use), Width: f.width, Height: f.height, DPI: f.dpi,
		Blank: f.blank, Answer: f.answer, Title: f.title, Caption: f.caption, Date: f.date,
	}
	for _, p := range f.panels {
		o.Panels = append(o.Panels, plots.Panel(strings.TrimSpace(p)))
	}
	if f.fs.Changed("from") || f.fs.Changed("to") {
		o.Window = &analyze.Interval{From: f.from, To: f.to}
		if !f.fs.Changed("from") {
			o.Window.From = math.Inf(-1)
		}
		if !f.fs.Changed("to") {
			o.Window.To = math.Inf(1)
		}
	}
	if f.volts != "" {
		r, err := voltRange(f.volts)
		if err != nil {
			return o, "", err
		}
		o.Volts = r
	}
	format, err := f.formatOf()
	if err != nil {
		return o, "", err
	}
	if err := o.Check(); err != nil {
		return o, "", err
	}
	if f.notes != "" {
		n, err := os.Open(f.notes)
		if err != nil {
			return o, "", err
		}
		defer n.Close()
		if o.Notes, err = plots.ReadNotes(n, f.notes); err != nil {
			return o, "", err
		}
	}
	return o, format, nil
}

func voltRange(s string) (*analyze.Interval, error) {
	low, high, ok := strings.Cut(s, ":")
	a, err1 := strconv.ParseFloat(strings.TrimSpace(low), 64)
	b, err2 := strconv.ParseFloat(strings.TrimSpace(high), 64)
	if !ok || err1 != nil || err2 != nil {
		return nil, fmt.Errorf("--volts %q: expected LOW:HIGH, for example 0:5", s)
	}
	return &analyze.Interval{From: a, To: b}, nil
}

// formatOf settles the format and, when none was given, the file's name.
func (f *drawFlags) formatOf() (string, error) {
	format := strings.ToLower(f.format)
	if format != "" && !slices.Contains(plots.Formats(), format) {
		return "", fmt.Errorf("--format %q is unknown: expected %s", f.format, strings.Join(plots.Formats(), ", "))
	}
	switch f.out {
	case "":
		if format == "" {
			format = "png"
		}
		f.out = bareName(f.fs.Arg(0)) + "." + format
		return format, nil
	case "-":
		if format == "" {
			return "", errors.New("--out - needs --format png, svg or pdf")
		}
		return format, nil
	}
	ext := strings.TrimPrefix(strings.ToLower(filepath.Ext(f.out)), ".")
	if format != "" && format != ext && slices.Contains(plots.Formats(), ext) {
		return "", fmt.Errorf("--format %s and --out %s disagree: leave --format out, or name a file that ends in .%s", format, f.out, format)
	}
	if format != "" {
		return format, nil
	}
	if !slices.Contains(plots.Formats(), ext) {
		return "", fmt.Errorf("--out %s: extension %q is unknown: expected .%s, or give --format", f.out, ext, strings.Join(plots.Formats(), ", ."))
	}
	return ext, nil
}

// bareName is a capture's file name without folder and extensions.
func bareName(path string) string {
	if path == "-" {
		return "capture"
	}
	return trimCaptureExt(filepath.Base(path))
}

// read reads and measures the captures and judges them as check does: a
// coupled and a free capture together, those before and after a repair each by
// itself. The captures of a contact sheet have nothing to do with each other.
func (f *drawFlags) read(opt analyze.Options, examine func(seen recordings, path string, o analyze.Options) (*analyze.Parts, error)) ([]plots.Figure, error) {
	cases := []caseFiles{{now: f.fs.Args(), free: f.free}}
	switch {
	case len(f.after) > 0:
		cases = []caseFiles{{before: f.fs.Args(), now: f.after, free: f.free}}
	case len(f.free) == 0:
		cases = nil
		for _, p := range f.fs.Args() {
			cases = append(cases, caseFiles{now: []string{p}})
		}
	}
	var figs []plots.Figure
	for _, c := range cases {
		seen := accountOf(len(c.now) + len(c.free) + len(c.before))
		j, err := c.judge(opt, nil, func(path string, o analyze.Options) (*analyze.Parts, error) {
			return examine(seen, path, o)
		})
		if err != nil {
			return nil, err
		}
		figs = append(figs, j.figures()...)
		if len(f.after) == 0 {
			continue
		}
		for i, c := range j.report.Captures { // beside a repair too
			if c.Free {
				figs = append(figs, plots.Figure{Trace: j.traces[i], Capture: c, Report: analyze.Judge(c)})
			}
		}
	}
	return figs, nil
}
