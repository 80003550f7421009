package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/signal"
)

const checkUsage = `Usage: threewire check [flags] FILE...

Judges one actuator from one or more captures of it. "-" reads standard input,
.gz files are read as they are. The verdict is the first line; then the
evidence, what the capture cannot tell, the next test and the cautions.

  threewire check coupled.csv
  threewire check coupled.csv --free uncoupled.csv
  threewire check coupled.csv --report for-the-customer.pdf --shop "My shop"
  threewire check --profile left-door.profile capture.csv
  threewire check --drive 2 --feedback "Channel B" capture.csv

Exit codes: 0 no fault found, 1 fault found, 2 wrong use or unreadable input,
3 cannot tell.

Flags:
`

// check judges one actuator.
func check(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("check", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	free := fs.StringArray("free", nil, "`FILE` of the same actuator uncoupled from its door (may be repeated)")
	asJSON := fs.Bool("json", false, "print the whole result as JSON (schema "+analyze.SchemaVersion+")")
	nominal := fs.String("profile", "", "`FILE` with what a known good actuator does (threewire profile makes one)")
	volts := fs.Float64("reference-volts", 5, "sensor supply in `V`, when no reference was logged")
	rail := fs.Float64("rail-band", 0.04, "`FRACTION` of the reference next to a rail that counts as open or shorted")
	brief := fs.Bool("brief", false, "print only the verdict line")
	report := addReportFlags(fs)
	rf := addReadFlags(fs)
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire check: %v\n", err)
		return exitUsage
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, checkUsage+fs.FlagUsages()+reportHelp)
			return 0
		}
		return fail(fmt.Errorf("%w (see threewire check --help)", err))
	}
	if fs.NArg()+len(*free) == 0 {
		return fail(errors.New("no capture given: expected threewire check FILE... (see threewire check --help)"))
	}
	if !(*volts > 0) {
		return fail(fmt.Errorf("--reference-volts %g: expected a positive voltage", *volts))
	}
	if !(*rail >= 0 && *rail < 0.5) {
		return fail(fmt.Errorf("--rail-band %g: expected a fraction from 0 to 0.5", *rail))
	}
	ro, err := report.options()
	if err != nil {
		return fail(err)
	}
	if err := report.keep(slices.Concat(fs.Args(), *free)); err != nil {
		return fail(err)
	}
	given := map[string]bool{}
	for _, p := range append(fs.Args(), *free...) {
		if given[p] {
			return fail(fmt.Errorf("%s is given twice: one capture is no second piece of evidence", p))
		}
		given[p] = true
	}
	opt := analyze.Defaults()
	opt.ReferenceVolts, opt.RailBand = *volts, *rail
	if fs.Changed("profile") {
		if opt.Profile, err = readProfile(*nominal); err != nil {
			return fail(err)
		}
	}
	var captures []*analyze.Capture
	var traces []*signal.Trace
	add := func(path string, uncoupled bool) error {
		o := opt
		o.Free = uncoupled
		t, c, err := examineFile(ctx, path, stdin, rf, o)
		if err != nil {
			return err
		}
		captures, traces = append(captures, c), append(traces, t)
		return nil
	}
	for _, p := range fs.Args() {
		if err := add(p, false); err != nil {
			return fail(err)
		}
	}
	for _, p := range *free {
		if err := add(p, true); err != nil {
			return fail(err)
		}
	}
	result := analyze.Judge(captures...)
	if report.path != "" {
		if err := writeReport(report.path, result, traces, ro); err != nil {
			return fail(err)
		}
	}
	switch {
	case *asJSON:
		enc := json.NewEncoder(stdout)
		enc.SetIndent("", "  ")
		if err := enc.Encode(jsonReport{Report: result, Columns: jsonColumns(traces)}); err != nil {
			return fail(err)
		}
	case *brief:
		fmt.Fprintln(stdout, headline(&result.Verdict))
	default:
		writeText(stdout, result, traces, paint(stdout))
	}
	return exitCode(result.Verdict.Conclusion)
}

// swapped refuses a capture whose drive glides and whose feedback switches:
// the two columns were taken for each other, and every finding would be
// nonsense.
func swapped(t *signal.Trace) error {
	code := map[string]bool{}
	for _, n := range t.Notes {
		code[n.Code] = true
	}
	if !code["unlike-drive"] || !code["unlike-feedback"] {
		return nil
	}
	var drive, feedback int
	for _, c := range t.Columns {
		switch c.Role {
		case signal.Drive, signal.Polarity:
			drive = c.Number
		case signal.Feedback:
			feedback = c.Number
		}
	}
	return fmt.Errorf("drive (column %d) glides like a wiper and feedback (column %d) switches like a drive: they look swapped; try --drive %d --feedback %d", drive, feedback, feedback, drive)
}

// examineFile reads and measures one capture.
func examineFile(ctx context.Context, path string, stdin io.Reader, rf *readFlags, opt analyze.Options) (*signal.Trace, *analyze.Capture, error) {
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	so, err := rf.options(path)
	if err != nil {
		return nil, nil, err
	}
	t, err := readCapture(path, stdin, so)
	if err != nil {
		return nil, nil, err
	}
	if err := swapped(t); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	c, err := analyze.Examine(t, opt)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	return t, c, nil
}

// readCapture reads a capture from a path, "-" being standard input.
func readCapture(path string, stdin io.Reader, o signal.Options) (*signal.Trace, error) {
	if path == "-" {
		return signal.Read(stdin, o)
	}
	return signal.ReadFile(path, o)
}

// exitCode says the conclusion to a script.
func exitCode(f analyze.Fault) int {
	switch f {
	case analyze.NoFault:
		return exitNoFault
	case analyze.CannotTell:
		return exitCannotTell
	}
	return exitFault
}

// paint tells whether colour is wanted: a terminal, and NO_COLOR unset or
// empty (no-color.org).
func paint(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	st, err := f.Stat()
	return err == nil && st.Mode()&os.ModeCharDevice != 0
}
