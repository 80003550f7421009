package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/signal"
)

const batchUsage = `Usage: threewire batch [flags] PATH...
       threewire batch --merge [flags] ROWS.jsonl...

Judges many captures and prints a table by fault, by part and by actuator.
PATH is a file, a folder (all .csv, .txt, .tsv and .gz below it), a pattern in
quotes, or "-" for a list of paths on standard input, one a line. A file that
cannot be read becomes a row with its error; the run goes on. Tables and rows of
a batch, prices, profiles and settings lying there are no captures: they are
named and left out. Of captures with the same bytes the tables count one. Where
a remark in a file says that the actuator was taken off its door, its parts are
judged together, as check does, and it keeps one row.

  threewire batch shelf --out shelf.jsonl --csv shelf.csv
  find shelf -name '*.csv' -print0 | threewire batch - --null --out shelf.jsonl

Run the same command again after an interruption, even a power cut: it goes on
where it stopped. Captures that are unchanged, by their content, are not checked
again, changed ones are. Rows of captures that are not named any more stay;
those whose files are gone are named. A file has one row, by whatever path it is
named.

The fields of a row and the columns of --csv: DEVELOPERS.md, part "Batch".

Names. The words free, uncoupled or off-the-door, coupled, before, after and a
date such as 2026-03-01 or 20260301-1430 at the end of a file name say what a
capture is; what is left of the path, dated folders aside, is the actuator:

  Rig 3/left-temperature-door-2026-03-01.csv
  Rig 3/left-temperature-door-2026-03-01-free.csv   judged together with it
  Rig 3/left-temperature-door-2026-04-02-after.csv  compared with the last -before

Other names: --key with a regular expression that is matched against the path.
Its group actuator is the actuator; free and coupled, when they match, say which
it is, and paths that are alike without them are judged together; when is the
date, phase is before or after.

  --key '(?P<actuator>rig\d+_[a-z]+)(?P<free>_bare)?_(?P<when>\d{8})'

What instruments write before the data: --preamble-key with a regular expression
that is matched against each line, with the same groups. Alternatives find facts
on several lines. Captures of one actuator, day and phase are then judged
together; what the lines do not say, the name does.

  --preamble-key '^Title,(?P<actuator>.+)$|^Date,(?P<when>.+)$|(?P<free>uncoupled)'

A capture without a date in its name or found so has that of its clock, if any.

Several machines. --shard K/N takes the K-th of N parts, the same on every
machine; --merge joins the rows as one run would have written them. Give every
part the same PATH and its own --out:

  GNU parallel
    seq 8 | parallel -q threewire batch shelf --quiet --workers 1 \
      --shard {}/8 --out part-{}.jsonl

  Slurm job array
    #SBATCH --array=1-8
    threewire batch shelf --quiet --workers "${SLURM_CPUS_PER_TASK:-1}" \
      --shard "$SLURM_ARRAY_TASK_ID/8" --out "part-$SLURM_ARRAY_TASK_ID.jsonl"

  Kubernetes indexed Job (completionMode: Indexed, completions: 8)
    k=$((JOB_COMPLETION_INDEX + 1))
    threewire batch /shelf --quiet --workers 1 --shard $k/8 --out /rows/part-$k.jsonl

  then, once
    threewire batch --merge part-*.jsonl --out shelf.jsonl --csv shelf.csv

Whole scripts and a manifest: cmd/threewire/recipes in the source.
A part that was stopped goes on when it is started again. To be sure that no
part is missing, run the plain command on the joined file: it checks what has
no row yet, and reads the rest only to compare it.

    threewire batch shelf --out shelf.jsonl

Exit codes: 0 all captures have a row, 2 wrong use, no captures found, flags
such as --drive that fit none of them, output that cannot be written, or
interrupted. Where the reader of standard output goes away, as after | head, the
signal SIGPIPE ends the run without a word, which a shell calls 141; rows in
--out stay.

Flags:
`

// batchFlags are the flags of batch.
type batchFlags struct {
	out, csv, chart    string
	key, preambleKey   string
	shard              string
	workers, actuators int
	null, merge, quiet bool
	read               *readFlags
	judge              *judgeFlags
}

// batch judges many captures.
func batch(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o batchFlags
	fs := pflag.NewFlagSet("batch", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.StringVarP(&o.out, "out", "o", "", "write a line of JSON for every capture to `FILE` (- is standard output), and resume from it")
	fs.StringVar(&o.csv, "csv", "", "write all rows to `FILE` as CSV, whole, at the end, in the place of an earlier table; - is standard output, row by row as they come, without the columns counted, counted_note and drift, which take all rows")
	fs.StringVar(&o.chart, "chart", "", "draw the faults by number and the span drifts to `FILE` (.png, .svg or .pdf)")
	fs.StringVar(&o.key, "key", "", "`REGEXP` that finds the actuator in a path (see above)")
	fs.StringVar(&o.preambleKey, "preamble-key", "", "`REGEXP` that finds the actuator in the lines before the data (see above)")
	fs.StringVar(&o.shard, "shard", "", "check only part `K/N` of the captures, K from 1 to N")
	fs.IntVar(&o.workers, "workers", runtime.GOMAXPROCS(0), "captures checked at the same time, each on a core")
	fs.IntVar(&o.actuators, "actuators", 40, "actuators in the table, 0 for all; unless it is given, more where more have a fault, are undecided, drift or were not read")
	fs.BoolVar(&o.null, "null", false, "the list on standard input is separated by NUL bytes")
	fs.BoolVar(&o.merge, "merge", false, "join the rows of several runs")
	fs.BoolVarP(&o.quiet, "quiet", "q", false, "no progress and no table")
	o.judge, o.read = addJudgeFlags(fs), addReadFlags(fs)
	o.judge.addProfileFlag()
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire batch: %v\n", err)
		return exitUsage
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, batchUsage+flagHelp(fs))
			return 0
		}
		return fail(flagError(fs, err))
	}
	if err := o.check(fs); err != nil {
		return fail(err)
	}
	inputs := []string{o.judge.profile}
	if o.merge {
		inputs = fs.Args()
	}
	if err := o.targets(inputs); err != nil {
		return fail(err)
	}
	// The table keeps out of the way of rows.
	table := stdout
	if o.out == "-" || o.csv == "-" {
		table = stderr
	}
	var rows []*batchRow
	var err error
	if o.merge {
		rows, err = mergeRows(fs.Args(), o.out, stdout, stderr)
	} else {
		rows, err = o.run(ctx, fs.Args(), stdin, stdout, stderr)
	}
	if err != nil {
		return fail(err)
	}
	if o.csv != "" && (o.csv != "-" || o.merge) {
		if err := o.writeCSV(stdout, rows); err != nil {
			return fail(err)
		}
	}
	if o.chart != "" {
		if err := writeChart(o.chart, rows); err != nil {
			return fail(err)
		}
	}
	if !o.quiet {
		limit := o.actuators
		if n := odd(actuators(rows)); !fs.Changed("actuators") && n > limit {
			limit = n
		}
		if err := writeTable(table, rows, limit); err != nil {
			return fail(err)
		}
	}
	return 0
}

// writeCSV writes the table: whole or not at all to a file, for half a table
// looks like a whole one in a spreadsheet.
func (o *batchFlags) writeCSV(stdout io.Writer, rows []*batchRow) error {
	if o.csv == "-" {
		return writeBatchCSV(stdout, rows)
	}
	return writeAtomic(o.csv, true, func(w io.Writer) error { return writeBatchCSV(w, rows) })
}

// check refuses what cannot work before anything is read.
func (o *batchFlags) check(fs *pflag.FlagSet) error {
	switch {
	case fs.NArg() == 0 && o.merge:
		return errors.New("--merge: no file given: expected the --out files of other runs")
	case fs.NArg() == 0:
		return errors.New("nothing to check: expected threewire batch PATH... (see threewire batch --help)")
	case o.merge && notOfMerge(fs) != "":
		return fmt.Errorf("--merge joins rows that are there already: --%s belongs to the runs that made them", notOfMerge(fs))
	case o.workers < 1:
		return fmt.Errorf("--workers %d: expected at least 1", o.workers)
	case o.actuators < 0:
		return fmt.Errorf("--actuators %d: expected a number, or 0 for all", o.actuators)
	case o.chart != "" && chartFormat(o.chart) == "":
		return fmt.Errorf("--chart %s: expected a name that ends in .png, .svg or .pdf", o.chart)
	case o.quiet && o.out == "" && o.csv == "" && o.chart == "":
		return errors.New("--quiet without --out, --csv or --chart would leave nothing of the run: add one")
	}
	return nil
}

// notOfMerge is a flag that was given and means nothing to --merge, "" for
// none.
func notOfMerge(fs *pflag.FlagSet) (name string) {
	fs.Visit(func(f *pflag.Flag) {
		if name == "" && !slices.Contains([]string{"merge", "out", "csv", "chart", "actuators", "quiet"}, f.Name) {
			name = f.Name
		}
	})
	return name
}

// parseShard reads K/N; "" is 1/1.
func parseShard(s string) (k, n int, err error) {
	if s == "" {
		return 1, 1, nil
	}
	a, b, ok := strings.Cut(s, "/")
	k, err1 := strconv.Atoi(a)
	n, err2 := strconv.Atoi(b)
	if !ok || err1 != nil || err2 != nil || k < 1 || k > n {
		return 0, 0, fmt.Errorf("--shard %q: expected K/N with K from 1 to N, e.g. 3/8", s)
	}
	return k, n, nil
}

// run checks the captures and returns all rows of the output in order.
func (o *batchFlags) run(ctx context.Context, paths []string, stdin io.Reader, stdout, stderr io.Writer) ([]*batchRow, error) {
	k, n, err := parseShard(o.shard)
	if err != nil {
		return nil, err
	}
	keys, err := newKeyer(o.key, o.preambleKey)
	if err != nil {
		return nil, err
	}
	so, err := o.read.options("")
	if err != nil {
		return nil, err
	}
	opt, err := o.judge.options()
	if err != nil {
		return nil, err
	}
	all, err := o.shelf(ctx, paths, keys, stdin, stderr)
	if err != nil {
		return nil, err
	}
	unmatched(all, keys, stderr)
	noSuchDays(all, stderr)
	all = shard(all, k, n)

	store, err := openStore(o.out, stdout)
	if err != nil {
		return nil, err
	}
	defer store.release()
	if err := o.apart(); err != nil { // now that there is a file, whatever it is called
		return nil, err
	}
	if store.cut {
		fmt.Fprintf(stderr, "threewire batch: %s: its last line was cut short; its capture is checked again\n", store.path)
	}
	// A worker is a core: several runs then share a machine as they were asked
	// to, and the collector does not take a second core from its neighbours.
	if cores := runtime.GOMAXPROCS(0); o.workers < cores {
		runtime.GOMAXPROCS(o.workers)
		defer runtime.GOMAXPROCS(cores)
	}
	j := &judge{read: o.read, opt: opt, settings: settingsText(so, opt), parsers: o.parsers(len(all))}
	if err := o.judgeAll(ctx, j, all, store, stdout, stderr); err != nil {
		return nil, err
	}
	var rows []*batchRow
	for _, s := range all {
		rows = append(rows, store.of(&s)...)
	}
	if err := earlierRows(store, rows, stderr); err != nil {
		return nil, err
	}
	if err := unread(rows, n > 1, stderr); err != nil {
		return nil, err
	}
	return store.sorted(), nil
}

// parsers is how many goroutines parse one capture where so many sets are to be
// judged. Captures side by side keep the cores busy; parsing one in parallel
// only pays when there are more cores than captures at work.
func (o *batchFlags) parsers(sets int) int {
	cores := min(o.workers, runtime.GOMAXPROCS(0))
	return max(1, cores/max(1, min(o.workers, sets)))
}

// shelf finds the captures and puts together what belongs together.
func (o *batchFlags) shelf(ctx context.Context, paths []string, keys keyer, stdin io.Reader, stderr io.Writer) ([]batchSet, error) {
	if slices.Contains(paths, "-") {
		stdin = interruptible(ctx, io.NopCloser(stdin))
	}
	// A capture that is gone is a row of the table; a folder that is misspelt is none.
	for _, p := range paths {
		if _, err := os.Stat(p); p != "-" && filepath.Ext(p) == "" && !strings.ContainsAny(p, "*?[") && errors.Is(err, fs.ErrNotExist) {
			return nil, noSuchFile(p, &signal.SourceError{File: p, Msg: "no such file or folder", Err: fs.ErrNotExist})
		}
	}
	list, empty, other, err := find(paths, stdin, o.null, []string{o.out, o.csv})
	if err != nil {
		return nil, err
	}
	leftOut(stderr, other)
	if len(list) == 0 {
		return nil, fmt.Errorf("no captures found in %s: expected files that end in .csv, .txt, .tsv or .gz", strings.Join(paths, ", "))
	}
	for _, e := range empty {
		fmt.Fprintf(stderr, "threewire batch: no captures found in %s\n", e)
	}
	all := sets(list, keys)
	for _, f := range list {
		if err := keepInputs(o.chart, []string{f.path}); err != nil {
			return nil, fmt.Errorf("--chart %w", err)
		}
	}
	return all, nil
}

// settingsText is all that a verdict depends on beside the capture itself.
func settingsText(so signal.Options, opt analyze.Options) string {
	var nominal []byte
	if opt.Profile != nil {
		nominal = opt.Profile.Text()
	}
	// fmt prints maps in the order of their keys.
	return fmt.Sprintf("%s %s %v %v %v %g %g %t %g %t %s", batchSchema, revision(), so.Roles, so.Scale, so.ScaleColumns, so.Rate, opt.ReferenceVolts, opt.ReferenceTold, opt.RailBand, opt.Whole, nominal)
}

// judgeAll judges the sets, stores their rows as they come and says how it goes.
func (o *batchFlags) judgeAll(ctx context.Context, j *judge, all []batchSet, store *rowStore, stdout, stderr io.Writer) error {
	total := 0
	for _, s := range all {
		total += len(s.files)
	}
	defer collectSeldom(o.workers, len(store.rows)+total)()

	// The workers read the earlier rows while new ones are added.
	earlier := maps.Clone(store.rows)
	var live *csvTable
	if o.csv == "-" {
		var err error
		if live, err = newCSVTable(stdout, nil); err != nil {
			return err
		}
	}
	p := newProgress(stderr, total, o.quiet)
	kept := 0
	err := runSets(ctx, all, o.workers,
		func(s *batchSet) []*batchRow { return j.set(s, earlier) },
		func(s *batchSet, rows []*batchRow) error {
			if rows == nil {
				kept += len(s.files)
			}
			p.add(len(s.files))
			if err := store.add(rows); err != nil || live == nil {
				return err
			}
			return live.add(store.of(s))
		})
	p.clear()
	if err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	if e := store.finish(); e != nil {
		return e
	}
	switch {
	case err != nil && (o.out == "" || o.out == "-"):
		return fmt.Errorf("interrupted after %d of %d captures", p.n, total)
	case err != nil:
		return fmt.Errorf("interrupted after %d of %d captures: run the same command again to go on", p.n, total)
	case !o.quiet:
		took := time.Since(p.start).Seconds()
		fmt.Fprintf(stderr, "%d checked, %d unchanged, in %.1f s (%.1f/s)\n", total-kept, kept, took, float64(total)/took)
	}
	return nil
}

// revision is the source version of the program, so that another version
// checks again. It is empty for a build outside version control.
func revision() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	s := ""
	for _, kv := range info.Settings {
		if kv.Key == "vcs.revision" || kv.Key == "vcs.modified" {
			s += kv.Value
		}
	}
	return s
}
