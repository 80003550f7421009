package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"threewire/fixtures"

	"github.com/spf13/pflag"
)

const usage = `Usage: accuracy [flags]

Makes captures with a known truth, judges them and reports how often the
verdict was right and how sure to be. Without flags it makes 4,104 captures of
the ranges narrow, wide and other, with the seeds kept for judging.

  accuracy --first-seed 1000 --range narrow --list    develop and fit
  accuracy --report DIR --json > figures.json         the full report
  accuracy --floors                                   the fixed smaller version of the gate
  accuracy --foreign                                  a second opinion, see below

With --foreign the captures come from another simulator, written by somebody
who had seen neither the analysis nor this rig: cases 1 to --count of one seed
in its ordinary ranges (narrow) and of the next seed in its wide ones. They are
read from the bytes of its files. What is decidable, and which components are
no mistake, is its author's own rule. Seeds 1 to 899999 are open to developing
and may be read case by case (--list, --cases, --keep). All others are kept for
judging: without --first-seed it takes 7700000001 (narrow) and 7700000002 (wide).

` + notice + `

Exit codes: 0 done, 1 a figure fell below its record (--floors), 2 wrong use
or a file that cannot be written.

Flags:
`

// settings are the flags.
type settings struct {
	plan     plan
	foreign  bool
	count    int
	floors   bool
	record   bool
	json     bool
	markdown bool
	list     string
	report   string
	cases    string
	keep     string
}

func (s *settings) flags(stderr io.Writer) *pflag.FlagSet {
	full := fullPlan()
	fs := pflag.NewFlagSet("accuracy", pflag.ContinueOnError)
	fs.SetOutput(stderr)
	fs.SortFlags = false
	fs.IntVar(&s.plan.seeds, "seeds", full.seeds, "single captures for each fault, severity and range")
	fs.IntVar(&s.plan.pairs, "pairs", full.pairs, "pairs of captures of either kind for each fault, severity and range")
	fs.IntVar(&s.plan.extras, "extras", full.extras, "further captures to measure places and trends on, for each such fault, severity and range")
	fs.Uint64Var(&s.plan.first, "first-seed", 0, "first `SEED`; below 1000000000 for fitting (default: the seeds kept for judging)")
	fs.StringSliceVar(&s.plan.ranges, "range", full.ranges, "ranges of parameters: narrow, wide, other")
	fs.StringSliceVar(&s.plan.faults, "fault", nil, "only these faults")
	fs.Float64SliceVar(&s.plan.severities, "severity", full.severities, "severities of the single captures, 0 to 1")
	fs.BoolVar(&s.foreign, "foreign", false, "judge cases of the second simulator instead")
	fs.IntVar(&s.count, "count", foreignCount, "cases of each range, with --foreign")
	fs.BoolVar(&s.json, "json", false, "write the report as JSON")
	fs.BoolVar(&s.markdown, "markdown", false, "write the dated table for DEVELOPERS.md")
	fs.StringVar(&s.report, "report", "", "write the report as text and JSON with PNG diagrams into `DIR`")
	fs.StringVar(&s.cases, "cases", "", "write every case as a JSON line into `FILE`")
	fs.StringVar(&s.list, "list", "", "list wrong verdicts with their findings: all, or sure (decidable, stated at 90 % or more)")
	fs.Lookup("list").NoOptDefVal = "all"
	fs.StringVar(&s.keep, "keep", "", "write the captures of the listed verdicts into `DIR`")
	fs.BoolVar(&s.floors, "floors", false, "run the fixed smaller version and fail when a figure is worse than recorded by more than its interval")
	fs.BoolVar(&s.record, "record", false, "run the fixed smaller version and print its figures as the new record")
	return fs
}

// check completes the settings and names what is not allowed.
func (s *settings) check(fs *pflag.FlagSet) error {
	s.plan.together = fullPlan().together
	if s.floors || s.record {
		for _, name := range []string{"seeds", "pairs", "extras", "first-seed", "range", "fault", "severity"} {
			if fs.Changed(name) {
				return fmt.Errorf("--%s does not go with --floors or --record, whose version is fixed: leave it out", name)
			}
		}
		s.plan = gatePlan()
	}
	if s.foreign {
		return s.checkForeign(fs)
	}
	if fs.Changed("count") {
		return errors.New("--count goes with --foreign; without it the number of cases is --seeds, --pairs and --extras")
	}
	for _, name := range s.plan.ranges {
		if _, ok := rangeNamed(name); !ok {
			return fmt.Errorf("--range %q is unknown, expected narrow, wide or other", name)
		}
	}
	for _, name := range s.plan.faults {
		found := false
		for _, f := range fixtures.Faults() {
			found = found || f.Name == name
		}
		if !found {
			return fmt.Errorf("--fault %q is unknown (see threewire simulate --list)", name)
		}
	}
	for _, v := range s.plan.severities {
		if !(v >= 0 && v <= 1) {
			return fmt.Errorf("--severity %v is out of range, expected 0 to 1", v)
		}
	}
	// Cases of one severity must not run into the seeds of the next.
	if s.plan.seeds < 0 || s.plan.seeds > 1000 || s.plan.pairs < 0 || s.plan.pairs > 1000 || s.plan.extras < 0 || s.plan.extras > 1000 {
		return errors.New("--seeds, --pairs and --extras: expected 0 to 1000")
	}
	if err := s.checkSingle(fitBelow); err != nil {
		return err
	}
	if s.json && s.markdown {
		return errors.New("--json and --markdown exclude each other: choose one")
	}
	return nil
}

// checkSingle checks the flags that show single cases. Seeds from 1 to below
// are open to that.
func (s *settings) checkSingle(below uint64) error {
	if s.list != "" && s.list != "all" && s.list != "sure" {
		return fmt.Errorf("--list %q is unknown, expected all or sure", s.list)
	}
	if s.keep != "" && s.list == "" {
		return errors.New("--keep needs --list: it keeps what is listed")
	}
	// Who reads single cases tunes on them, meaning to or not.
	if (s.list != "" || s.cases != "") && (s.plan.first == 0 || s.plan.first >= below) {
		return fmt.Errorf("--list and --cases show single cases, which the seeds kept for judging are not for: give --first-seed below %d", below)
	}
	return nil
}

// run returns the exit code: 0 when all floors hold, 1 when one does not, 2
// for wrong use.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	var s settings
	fs := s.flags(io.Discard)
	fail := func(err error) int {
		fmt.Fprintf(stderr, "accuracy: %v\n", err)
		return 2
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, usage+fs.FlagUsages())
			return 0
		}
		return fail(err)
	}
	if fs.NArg() > 0 {
		return fail(fmt.Errorf("unexpected argument %q", fs.Arg(0)))
	}
	if err := s.check(fs); err != nil {
		return fail(err)
	}
	command := strings.Join(append([]string{"go run ./cmd/accuracy"}, args...), " ")
	if s.foreign {
		if err := s.benchForeign(ctx, command, stdout); err != nil {
			return fail(err)
		}
		return 0
	}
	sum, bad, err := s.bench(ctx, command, stdout, stderr)
	if err != nil {
		return fail(err)
	}
	if err := s.write(sum, stdout); err != nil {
		return fail(err)
	}
	if bad {
		return 1
	}
	return 0
}

// bench runs the plan range by range. Text goes out as each range is done.
func (s *settings) bench(ctx context.Context, command string, stdout, stderr io.Writer) (sum *summary, bad bool, err error) {
	sum = &summary{Schema: schema, Command: command, Notice: notice}
	text := !s.json && !s.markdown && !s.record
	if text {
		fmt.Fprintln(stdout, notice)
	}
	err = s.withCases(func(cases io.Writer) error {
		for _, name := range s.plan.ranges {
			rg, _ := rangeNamed(name)
			tasks := s.plan.tasks(rg)
			res, err := judgeAll(ctx, len(tasks), func(i int) outcome { return judge(&tasks[i], s.list != "") })
			if err != nil {
				return err
			}
			r := summarise(rg, s.plan.seedOf(rg), res)
			sum.Ranges = append(sum.Ranges, r)
			if s.floors {
				bad = below(stderr, &r, records()[name]) || bad
			}
			if text {
				if err := r.writeText(stdout); err != nil {
					return err
				}
			}
			if err := s.perCase(res, func(i int) error { return tasks[i].keep(s.keep) }, cases, stdout); err != nil {
				return err
			}
		}
		return nil
	})
	return sum, bad, err
}

// withCases opens the file for single cases, if one is wanted.
func (s *settings) withCases(use func(cases io.Writer) error) error {
	if s.cases == "" {
		return use(nil)
	}
	return writeFile(s.cases, use)
}

// perCase writes what is wanted of single cases; keep keeps the captures of one.
func (s *settings) perCase(res []outcome, keep func(i int) error, cases, stdout io.Writer) error {
	if cases != nil {
		e := json.NewEncoder(cases)
		for i := range res {
			if err := e.Encode(&res[i]); err != nil {
				return err
			}
		}
	}
	if s.list == "" {
		return nil
	}
	if err := writeWrong(stdout, res, s.list == "sure"); err != nil {
		return err
	}
	if s.keep == "" {
		return nil
	}
	if err := os.MkdirAll(s.keep, 0o755); err != nil {
		return err
	}
	for i := range res {
		if o := &res[i]; o.Error == "" && !o.right() && o.Kind != extra && (s.list == "all" || o.sureWrong()) {
			if err := keep(i); err != nil {
				return err
			}
		}
	}
	return nil
}

// write writes what covers all ranges.
func (s *settings) write(sum *summary, stdout io.Writer) error {
	if s.report != "" {
		if err := sum.writeDir(s.report); err != nil {
			return err
		}
	}
	switch {
	case s.json:
		return sum.writeJSON(stdout)
	case s.markdown:
		return sum.markdown(stdout, time.Now().Format(time.DateOnly))
	case s.record:
		for i := range sum.Ranges {
			if err := sum.Ranges[i].writeRecord(stdout); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s *summary) writeJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(s)
}

// writeDir writes the whole report into a directory.
func (s *summary) writeDir(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	files := map[string]func(io.Writer) error{
		"accuracy.json": s.writeJSON,
		"accuracy.txt": func(w io.Writer) error {
			if _, err := fmt.Fprintf(w, "%s\n%s\n\n", s.Command, s.Notice); err != nil {
				return err
			}
			for i := range s.Ranges {
				if err := s.Ranges[i].writeText(w); err != nil {
					return err
				}
			}
			return nil
		},
		"reliability.png": s.drawReliability,
	}
	for i := range s.Ranges {
		files["detection-"+s.Ranges[i].Range+".png"] = s.Ranges[i].drawDetection
	}
	for name, write := range files {
		if err := writeFile(filepath.Join(dir, name), write); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}
