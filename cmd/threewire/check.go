package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/analyze/cost"
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

Several FILEs are captures of one actuator, taken one after the other; they are
put in the order of their wall-clock starts when all have one. With --before,
they are captures after a repair, and whether it is proven is a result of its
own: what was wrong must be gone, and the captures after it must have been able
to show it. Where the drive moves the reading the other way round than before,
or span and pace differ as no fault makes them, it cannot tell, unless
--same-actuator is given.

A capture that is evidently of another actuator is named and not weighed, unless
--same-actuator says that it is of this one: a --free one of the other sense of
drive, another sensor supply, a plainly shorter travel or a stop short of where
the coupled one goes (unless that one stalls there too at times), or slower both
ways with no fault of its own that slows it; a further FILE of which two of
sense, span and pace are not the first one's, beyond what drive, door and warmth
make and as no fault makes them. A capture given as coupled whose name says free
or uncoupled is asked about too.

A file with a remark in it that the actuator was taken off its door ("arm pulled
off door here", in a column of comments or notes) is two captures: up to there
coupled, from there on as if given with --free, until a remark says that it is
back on. What was taken for what stands below the verdict; --whole takes each
file as one.

  threewire check march.csv april.csv may.csv june.csv july.csv
  threewire check --before broken.csv repaired.csv
  threewire check --good-side right-door.csv left-door.csv

Exit codes: 0 no fault found, 1 fault found, 2 wrong use, unreadable input, or
a verdict or report that could not be written, 3 cannot tell. With --before:
0 no fault found and the repair proven, 1 fault found or the old one still
there, 3 cannot tell.

Flags:
`

// checkFlags are the flags of check itself.
type checkFlags struct {
	free, before, goodSide []string
	asJSON, same, brief    bool
	prices                 string
}

// addCheckFlags adds the flags of check to the set.
func addCheckFlags(fs *pflag.FlagSet) *checkFlags {
	f := &checkFlags{}
	fs.StringArrayVar(&f.free, "free", nil, "`FILE` of the same actuator uncoupled from its door (may be repeated)")
	fs.StringArrayVar(&f.before, "before", nil, "`FILE` of the same actuator before a repair; the others are after it (may be repeated)")
	fs.StringArrayVar(&f.goodSide, "good-side", nil, "`FILE` of the same kind of actuator on the healthy side (may be repeated)")
	fs.BoolVar(&f.asJSON, "json", false, "print the whole result as JSON (schema "+analyze.SchemaVersion+")")
	fs.BoolVar(&f.same, "same-actuator", false, "all captures but the --good-side ones are of this actuator, however unlike: weigh them")
	fs.StringVar(&f.prices, "prices", "", "`FILE` with your own prices and hours: what each repair choice risks in money")
	fs.BoolVar(&f.brief, "brief", false, "print only the verdict line")
	return f
}

// misused says what is missing to judge the captures now, or nil.
func (f *checkFlags) misused(now []string) error {
	switch {
	case len(now)+len(f.free) == 0 && len(f.before) > 0:
		return errors.New("no capture given of after the repair: expected threewire check --before BROKEN.csv REPAIRED.csv")
	case len(now)+len(f.free) == 0:
		return errors.New("no capture given: expected threewire check FILE... (see threewire check --help)")
	case f.brief && f.asJSON:
		return errors.New("--brief and --json are two forms of the result: give one of them")
	case f.same && len(now)+len(f.free)+len(f.before) < 2:
		return errors.New("--same-actuator is said of several captures, or of those given with --free or --before: there is one only")
	}
	return nil
}

// check judges one actuator.
func check(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("check", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	f := addCheckFlags(fs)
	report := addReportFlags(fs)
	jf := addJudgeFlags(fs)
	jf.addProfileFlag()
	rf := addReadFlags(fs)
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire check: %v\n", err)
		return exitUsage
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, checkUsage+flagHelp(fs)+reportHelp+pricesHelp())
			return 0
		}
		return fail(flagError(fs, err))
	}
	if err := f.misused(fs.Args()); err != nil {
		return fail(err)
	}
	opt, err := jf.options()
	if err != nil {
		return fail(err)
	}
	ro, err := report.options()
	if err != nil {
		return fail(err)
	}
	all := slices.Concat(fs.Args(), f.free, f.before, f.goodSide)
	if err := report.target(slices.Concat(all, []string{f.prices, jf.profile})); err != nil {
		return fail(err)
	}
	if err := onlyOnce(all); err != nil {
		return fail(err)
	}
	var prices *cost.Prices
	if fs.Changed("prices") {
		if prices, err = readPrices(f.prices); err != nil {
			return fail(err)
		}
	}
	seen := accountOf(len(all))
	j, err := caseFiles{now: fs.Args(), free: f.free, before: f.before, good: f.goodSide, same: f.same}.judge(opt, prices, func(path string, o analyze.Options) (*analyze.Parts, error) {
		return examineFile(ctx, path, stdin, rf, seen, o)
	})
	if err != nil {
		return fail(err)
	}
	if err := f.print(stdout, j); err != nil {
		return fail(err)
	}
	// The verdict is worth having without its report.
	if report.path != "" {
		if err := writeReport(report.path, report.force, j, ro); err != nil {
			return fail(err)
		}
		fmt.Fprintf(stderr, "threewire check: report written to %s\n", report.path)
	}
	return repairCode(j.report)
}

// print writes what was asked for of the judged case.
func (f *checkFlags) print(stdout io.Writer, j *judged) error {
	colour := paint(stdout)
	return printWhole(stdout, func(w io.Writer) error {
		switch {
		case f.asJSON:
			return writeJSON(w, j)
		case f.brief:
			fmt.Fprintln(w, headline(&j.report.Verdict))
			if r := j.report.Repair; r != nil {
				fmt.Fprintln(w, repairLine(r))
			}
			if a := j.asks(); a != "" {
				fmt.Fprintln(w, a)
			}
		default:
			tell(j).write(w, colour)
		}
		return nil
	})
}

// repairCode is the exit code of a check: that of the verdict, and after a
// repair also that of its proof.
func repairCode(r *analyze.Report) int {
	code := exitCode(r.Verdict.Conclusion)
	if r.Repair == nil || code == exitFault {
		return code
	}
	switch r.Repair.Result {
	case analyze.RepairNotProven:
		return exitFault
	case analyze.RepairUnclear:
		return exitCannotTell
	}
	return code
}

// swapped refuses a capture whose drive glides within a wiper's range and
// whose feedback switches with a drive's volts: the two columns were taken for
// each other, and every finding would be nonsense.
func swapped(t *signal.Trace) error {
	if !slices.ContainsFunc(t.Notes, func(n signal.Note) bool { return n.Code == "swapped" }) {
		return nil
	}
	var leads, over []string
	drive, feedback, lead, least := 0, 0, signal.LeadA, math.Inf(1)
	for _, c := range t.Columns {
		switch c.Role {
		case signal.LeadA, signal.LeadB:
			leads = append(leads, strconv.Itoa(c.Number))
			if c.Stats.Max < least { // a wiper stays below its 5 V
				drive, lead, least = c.Number, c.Role, c.Stats.Max
			}
		case signal.Drive, signal.Polarity:
			drive = c.Number
		case signal.Feedback:
			feedback = c.Number
		}
	}
	if len(leads) == 0 {
		return fmt.Errorf("drive (column %d) moves like a wiper and feedback (column %d) switches like a drive: they look swapped; try --drive %d --feedback %d", drive, feedback, feedback, drive)
	}
	for _, c := range t.Columns {
		switch c.Role {
		case signal.LeadA, signal.LeadB:
			n := c.Number
			if c.Role == lead {
				n = feedback
			}
			over = append(over, fmt.Sprintf("--%s %d", map[signal.Role]string{signal.LeadA: "lead-a", signal.LeadB: "lead-b"}[c.Role], n))
		}
	}
	return fmt.Errorf("a motor lead (column %d) moves like a wiper and feedback (column %d) switches like a drive: they look swapped; try %s --feedback %d", drive, feedback, strings.Join(over, " "), drive)
}

// examineFile reads and measures one capture, as the flags say, that was not
// seen before.
func examineFile(ctx context.Context, path string, stdin io.Reader, rf *readFlags, seen recordings, opt analyze.Options) (*analyze.Parts, error) {
	if err := refuseOther(path, path); err != nil {
		return nil, err
	}
	so, err := rf.options(path)
	if err != nil {
		return nil, err
	}
	return seen.examine(ctx, path, stdin, so, opt)
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
