package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"threewire/analyze"
	"threewire/analyze/cost"
	"threewire/plots"
	"threewire/signal"
)

// caseFiles are the captures of one actuator by their paths: as it is now,
// uncoupled from its door, before a repair, and of its like on the good side.
type caseFiles struct {
	now, free, before, good []string
	same                    bool // the user says that the uncoupled ones are of this actuator
}

// judged is one actuator judged, with what was read of it.
type judged struct {
	report         *analyze.Report
	traces, others []*signal.Trace // of the captures judged; of those beside
	ask            string          // one sentence that the user must know first; mostly empty
	told           []string        // what files were taken for because of their remarks
}

// judge measures all captures with examine and weighs them together; with
// prices also what each repair choice costs.
func (f caseFiles) judge(opt analyze.Options, prices *cost.Prices, examine func(path string, o analyze.Options) (*analyze.Parts, error)) (*judged, error) {
	if err := f.swapped(); err != nil {
		return nil, err
	}
	what := analyze.Case{Same: f.same}
	j := judged{ask: f.ask()}
	for _, g := range []struct {
		paths  []string
		free   bool
		list   *[]*analyze.Capture
		traces *[]*signal.Trace
	}{
		{f.now, false, &what.Now, &j.traces},
		{f.free, true, &what.Now, &j.traces},
		{f.before, false, &what.Before, &j.others},
		{f.good, false, &what.Good, &j.others},
	} {
		for _, p := range g.paths {
			o := opt
			o.Free = g.free
			parts, err := examine(p, o)
			if err != nil {
				return nil, err
			}
			for _, x := range parts.List {
				*g.list, *g.traces = append(*g.list, x.Capture), append(*g.traces, x.Trace)
			}
			if parts.Told != "" {
				j.told = append(j.told, f.beginning(parts.Source)+parts.Told)
			}
		}
	}
	if len(f.now)+len(f.free)+len(f.before) == 1 {
		what.Same = true // of one file
	}
	j.report = what.Judge()
	if prices != nil {
		cost.Price(j.report, prices)
	}
	return &j, nil
}

// beginning is a file as the beginning of what is said of it, where there are several.
func (f caseFiles) beginning(source string) string {
	if len(f.now)+len(f.free)+len(f.before)+len(f.good) == 1 {
		return ""
	}
	return filepath.Base(source) + ": "
}

// asks is all that the user must know before trusting the result; mostly empty.
func (j *judged) asks() string {
	return strings.TrimSpace(strings.Join(append([]string{j.ask}, j.told...), " "))
}

// all are the traces in the order a report wants them.
func (j *judged) all() []*signal.Trace { return slices.Concat(j.traces, j.others) }

// figures are what draw would draw of the case: a repair as before and after,
// each judged by itself; else the captures judged together.
func (j *judged) figures() []plots.Figure {
	var figs []plots.Figure
	for i, c := range j.report.Before {
		figs = append(figs, plots.Figure{Trace: j.others[i], Capture: c, Report: analyze.Judge(c), Repair: j.report.Repair})
	}
	for i, c := range j.report.Captures {
		rep := j.report
		if len(j.report.Before) > 0 {
			if c.Free {
				continue
			}
			rep = analyze.Judge(c)
		}
		figs = append(figs, plots.Figure{Trace: j.traces[i], Capture: c, Report: rep})
	}
	return figs
}

// swapped refuses captures whose names say that they are something else than they
// were given as: each of a coupled and an uncoupled one the other, or an uncoupled one
// beside the coupled one of the same actuator.
func (f caseFiles) swapped() error {
	for _, c := range f.now {
		a := nameKey(c)
		if !a.free {
			continue
		}
		coupled := func(o string) bool { b := nameKey(o); return !b.free && b.actuator == a.actuator }
		if i := slices.IndexFunc(f.free, coupled); i >= 0 {
			return fmt.Errorf("%s is uncoupled by its name, and %s was given with --free: swap them, or rename the files", c, f.free[i])
		}
		if i := slices.IndexFunc(f.now, coupled); i >= 0 {
			return fmt.Errorf("%s is uncoupled by its name, and stands beside %s as if it were coupled: give it with --free, or rename it", c, f.now[i])
		}
		if i := slices.IndexFunc(f.before, coupled); i >= 0 {
			return fmt.Errorf("%s is uncoupled by its name: no repair is proven off the door against %s; give the coupled capture after the repair, or rename it", c, f.before[i])
		}
	}
	return nil
}

// ask is what the user must know of the captures given before trusting the verdict.
func (f caseFiles) ask() string {
	if len(f.now) == 0 && len(f.free) > 0 {
		return "No coupled capture was given: this is the actuator off its door, and says nothing of the door."
	}
	return f.uncoupledByName()
}

// uncoupledByName says of captures that were judged as coupled though their names say
// uncoupled; empty where there is none.
func (f caseFiles) uncoupledByName() string {
	var names []string
	for _, c := range f.now {
		if c != "-" && nameKey(c).free {
			names = append(names, filepath.Base(c))
		}
	}
	if len(names) == 0 {
		return ""
	}
	is, it := " is uncoupled by its name and was", "it"
	if len(names) > 1 {
		is, it = " are uncoupled by their names and were", "them"
	}
	return strings.Join(names, ", ") + is + " judged as coupled to the door: give " + it + " with --free if that is so."
}
