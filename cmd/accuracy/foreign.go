package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"threewire/analyze"
	"threewire/fixtures"
	"threewire/fixtures/foreign"
	"threewire/signal"

	"github.com/spf13/pflag"
)

// Seeds of the foreign simulator: those below foreignOpen may be developed on;
// 900001 judged before it came here, foreignJudged and the next judge now. The
// wide ranges take the seed after that of the ordinary ones, since cases of one
// seed have mostly the same fault in both.
const (
	foreignOpen   = 900_000
	foreignJudged = 7_700_000_001
	foreignCount  = 400
)

// foreignRanges are the ordinary ranges and the wide ones, in the bench's words.
func foreignRanges() []string {
	return []string{fixtures.Narrow.String(), fixtures.Wide.String()}
}

// checkForeign completes the settings of --foreign and names what is not
// allowed.
func (s *settings) checkForeign(fs *pflag.FlagSet) error {
	for _, name := range []string{"seeds", "pairs", "extras", "fault", "severity", "json", "report", "floors", "record"} {
		if fs.Changed(name) {
			return fmt.Errorf("--%s does not go with --foreign: leave it out", name)
		}
	}
	if !fs.Changed("range") {
		s.plan.ranges = foreignRanges()
	}
	for _, name := range s.plan.ranges {
		if !slices.Contains(foreignRanges(), name) {
			return fmt.Errorf("--range %q is unknown to --foreign, expected narrow or wide", name)
		}
	}
	if s.count < 1 || s.count > 100_000 {
		return errors.New("--count: expected 1 to 100000")
	}
	return s.checkSingle(foreignOpen)
}

// foreignSeed is the seed of a range.
func (p *plan) foreignSeed(wide bool) uint64 {
	seed := p.first
	if seed == 0 {
		seed = foreignJudged
	}
	if wide {
		seed++
	}
	return seed
}

// foreignRange is the report of one range of the foreign simulator.
type foreignRange struct {
	name                 string
	seed                 uint64
	refused              int
	all, healthy, faulty figures
	stated               calibration // against what its author accepts
	named, cleared       calibration // the same of faults and of "no fault"
	said                 confusion
	kinds, faults        []group
}

// benchForeign judges the cases range by range.
func (s *settings) benchForeign(ctx context.Context, command string, stdout io.Writer) error {
	if !s.markdown {
		if _, err := fmt.Fprintln(stdout, notice); err != nil {
			return err
		}
	}
	var all []foreignRange
	err := s.withCases(func(cases io.Writer) error {
		for _, name := range s.plan.ranges {
			wide := name == fixtures.Wide.String()
			seed := s.plan.foreignSeed(wide)
			res, err := judgeAll(ctx, s.count, func(i int) outcome { return judgeForeign(seed, i+1, wide, s.list != "") })
			if err != nil {
				return err
			}
			r := summariseForeign(name, seed, res)
			all = append(all, r)
			if !s.markdown {
				if err := r.writeText(stdout); err != nil {
					return err
				}
			}
			keep := func(i int) error { return keepForeign(s.keep, seed, i+1, wide) }
			if err := s.perCase(res, keep, cases, stdout); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil || !s.markdown {
		return err
	}
	return markdownForeign(stdout, time.Now().Format(time.DateOnly), command, all)
}

// judgeForeign makes a case, reads its files and judges them together.
func judgeForeign(seed uint64, number int, wide, findings bool) outcome {
	o, captures := examineForeign(seed, number, wide)
	if o.Refused != "" {
		return o
	}
	o.take(&analyze.Judge(captures...).Verdict)
	if findings {
		o.keepFindings(captures)
	}
	return o
}

// examineForeign makes a case and examines its captures from the bytes of their
// files. As with the rig, the analysis is told which capture is uncoupled, and
// nothing else. A refused capture leaves the user without a verdict, which
// counts as "cannot tell".
func examineForeign(seed uint64, number int, wide bool) (outcome, []*analyze.Capture) {
	c := foreign.Make(seed, number, wide)
	t := &c.Truth
	o := outcome{Range: foreignRanges()[0], Kind: single, Fault: t.Fault, Severity: t.Severity, Seed: seed, Case: number,
		Controller: c.Driver, Instrument: c.Instrument, Captures: len(c.Data), RateHz: c.Rate, Bits: c.Bits,
		Component: foreignComponent(t.Component), Decidable: t.Decidable, Why: t.Note,
		Said: cannotTell, Part: cannotTell}
	if wide {
		o.Range = foreignRanges()[1]
	}
	if len(c.Data) > 1 {
		o.Kind = pair
	}
	for _, name := range append([]string{t.Component}, t.AlsoOK...) {
		o.Acceptable = append(o.Acceptable, foreignComponent(name))
	}
	var captures []*analyze.Capture
	for k, b := range c.Data {
		opt := analyze.Defaults()
		opt.Free = k > 0
		a, err := examineBytes(t.Files[k], b, opt)
		if err != nil {
			o.Refused = err.Error()
			return o, nil
		}
		captures = append(captures, a)
	}
	o.Duration = captures[0].Duration
	return o, captures
}

// examineBytes reads a file, as threewire check does, and examines it.
func examineBytes(name string, b []byte, opt analyze.Options) (*analyze.Capture, error) {
	// All cores are at work on cases already.
	tr, err := signal.Read(bytes.NewReader(b), signal.Options{Source: name, Workers: 1})
	if err != nil {
		return nil, err
	}
	if slices.ContainsFunc(tr.Notes, func(n signal.Note) bool { return n.Code == "swapped" }) {
		return nil, fmt.Errorf("%s: drive and feedback look swapped", name)
	}
	return analyze.Examine(tr, opt)
}

// foreignComponent is a component in the words of our own truth file.
func foreignComponent(name string) string {
	switch name {
	case "sensor":
		return fixtures.Sensor
	case "motor":
		return fixtures.Motor
	case "door":
		return fixtures.Door
	case "wiring":
		return fixtures.Wiring
	}
	return name
}

// summariseForeign reports one range.
func summariseForeign(name string, seed uint64, res []outcome) foreignRange {
	r := foreignRange{name: name, seed: seed}
	var list []*outcome
	for i := range res {
		list = append(list, &res[i])
		if res[i].Refused != "" {
			r.refused++
		}
	}
	sound := func(o *outcome) bool { return !faulty(o) }
	r.all, r.healthy, r.faulty = count(list), count(only(list, sound)), count(only(list, faulty))
	clears := func(o *outcome) bool { return o.Said == fixtures.None }
	names := func(o *outcome) bool { return !clears(o) }
	r.stated = calibrateBy(list, (*outcome).acceptedAt)
	r.named = calibrateBy(only(list, names), (*outcome).acceptedAt)
	r.cleared = calibrateBy(only(list, clears), (*outcome).acceptedAt)
	r.said = confuse(list)
	r.kinds = groupBy(list, byKind)
	order := foreignFaults()
	r.faults = groupBy(list, func(o *outcome) (string, float64) { return o.Fault, float64(slices.Index(order, o.Fault)) })
	return r
}

// foreignFaults lists the names of the foreign simulator's faults, none first.
func foreignFaults() []string {
	out := []string{fixtures.None}
	for _, f := range foreign.Catalogue() {
		out = append(out, f.Name)
	}
	return out
}

// rows lists the figures in the order of the report.
func (r *foreignRange) rows() []row {
	return slices.Insert(r.all.verdictRows(), 1,
		row{name: "the same of the healthy", share: &r.healthy.Right},
		row{name: "the same of the faulty", share: &r.faulty.Right})
}

// foreignScore is one calibration of the report.
type foreignScore struct {
	name string
	of   *calibration
}

func (r *foreignRange) scores() []foreignScore {
	return []foreignScore{{"component", &r.stated}, {"faults named", &r.named}, {`"no fault"`, &r.cleared}}
}

// writeText writes the report of one range for reading.
func (r *foreignRange) writeText(w io.Writer) error {
	p := &printer{w: w}
	use := "kept for judging"
	if r.seed <= foreignOpen {
		use = "open to developing"
	}
	p.line("== foreign simulator, %s, seed %d (%s): %d cases of %d captures, %d refused (they count as %q)", r.name, r.seed, use, r.all.Cases, r.all.Captures, r.refused, cannotTell)
	writeRows(p, r.rows())
	for _, c := range r.scores() {
		c.of.write(p, c.name+", against what its author accepts")
	}
	r.said.write(p)
	writeFaults(p, "kind of case", r.kinds)
	writeFaults(p, "fault", r.faults)
	p.line("")
	return p.err
}

// markdownForeign writes the tables for DEVELOPERS.md, ready to paste.
func markdownForeign(w io.Writer, date, command string, all []foreignRange) error {
	p := &printer{w: w}
	p.line("%s, `%s`. %s", date, command, notice)
	p.line("")
	head := []string{"figure, foreign simulator"}
	var names []string
	var columns [][]row
	var faults [][]group
	for i := range all {
		r := &all[i]
		head = append(head, fmt.Sprintf("%s, seed %d (%d captures)", r.name, r.seed, r.all.Captures))
		names, columns, faults = append(names, r.name), append(columns, r.rows()), append(faults, r.faults)
	}
	tableHead(p, append(head, "aim")...)
	tableRows(p, columns)
	for k, c := range all[0].scores() {
		var cals []*calibration
		for i := range all {
			cals = append(cals, all[i].scores()[k].of)
		}
		tableCalibration(p, "calibration error, "+c.name, "", cals)
	}
	p.line("")
	tableHead(p, "verdict", "stated", "right", "n")
	for i := range all {
		for _, c := range all[i].scores()[1:] {
			for _, b := range c.of.Bins {
				p.line("| %s, %s | %.2f | %.2f (%.2f..%.2f) | %d |", all[i].name, c.name, b.Stated, b.Observed, b.Low, b.High, b.Count)
			}
		}
	}
	p.line("")
	tableFaults(p, foreignFaults(), names, faults)
	return p.err
}

// keepForeign writes the files of a case and its truth into a directory.
func keepForeign(dir string, seed uint64, number int, wide bool) error {
	c := foreign.Make(seed, number, wide)
	base := filepath.Join(dir, fmt.Sprintf("foreign-%d-", seed))
	for k, name := range c.Truth.Files {
		if err := os.WriteFile(base+name, c.Data[k], 0o644); err != nil {
			return err
		}
	}
	return writeFile(base+c.Truth.Case+".truth.json", func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetIndent("", " ")
		return e.Encode(c.Truth)
	})
}
