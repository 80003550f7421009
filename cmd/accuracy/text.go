package main

import (
	"fmt"
	"io"
	"strings"

	"threewire/analyze"
	"threewire/fixtures"
)

// printer writes lines and keeps the first error.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, a ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", a...)
	}
}

// said are the verdicts in the order of the confusion matrix.
func verdicts() []string {
	var out []string
	for _, f := range analyze.Faults() {
		out = append(out, component(f))
	}
	return append(out, cannotTell)
}

// writeText writes the report of one range for reading.
func (s *rangeSummary) writeText(w io.Writer) error {
	p := &printer{w: w}
	p.line("== %s (for %s), first seed %d (%s): %d cases of %d captures, %d failed", s.Range, s.Use, s.FirstSeed, s.Seeds, s.All.Cases, s.All.Captures, s.All.Failed)
	writeRows(p, s.All.rows())
	s.Calibration.write(p, "component, against what a careful reader may say")
	s.Strict.write(p, "component, against the fault put in")
	s.Parts.write(p, "part")
	s.Confusion.write(p)
	for _, t := range []struct {
		title string
		rows  []group
	}{{"kind of case", s.Kinds}, {"severity (faulty, single)", s.Severities}, {"sampling rate (single)", s.Rates}, {"converter (single)", s.Bits}, {"noise (single)", s.Noises}} {
		writeGroups(p, t.title, t.rows)
	}
	writeFaults(p, "fault", s.Faults)
	p.line("")
	return p.err
}

// writeFaults writes how each group of cases was judged, a line each.
func writeFaults(p *printer, title string, rows []group) {
	p.line("%-22s %14s %14s %12s %12s", title, "decidable", "part right", "cannot tell", "named")
	for i := range rows {
		g := &rows[i]
		p.line("%-22s %14s %14s %12s %12s", g.Name, g.Right.of(), g.PartRight.of(), g.Unsure.of(), g.Detected.of())
	}
}

// of writes a count of a whole.
func (s share) of() string { return fmt.Sprintf("%d of %d", s.Hits, s.Of) }

// percent writes a share with its interval.
func (s share) percent() string {
	if s.Of == 0 {
		return "none"
	}
	return fmt.Sprintf("%.1f %% (%.1f..%.1f)", 100*s.Rate, 100*s.Low, 100*s.High)
}

func (s spread) percent() string {
	if s.Count == 0 {
		return "none"
	}
	return fmt.Sprintf("median %.2f %%, 90 %% below %.2f %%", 100*s.Median, 100*s.P90)
}

func writeRows(p *printer, rows []row) {
	for _, r := range rows {
		if r.err != nil {
			p.line("  %-46s %-36s (%d; within %.3g %%: %s)", r.name, r.err.percent(), r.err.Count, 100*r.err.aim, r.err.Within.of())
		} else {
			p.line("  %-46s %-36s (%s)", r.name, r.share.percent(), r.share.of())
		}
	}
}

// row is one line of the report: a share or the size of errors.
type row struct {
	name  string
	share *share
	err   *spread
	aim   string
}

// rows lists the figures in the order of the report, with the aims.
func (f *figures) rows() []row { return append(f.verdictRows(), f.measureRows()...) }

// verdictRows lists the figures of the verdicts.
func (f *figures) verdictRows() []row {
	return []row{
		{name: "component right on decidable", share: &f.Right, aim: ">= 97 %"},
		{name: "part right on decidable", share: &f.PartRight},
		{name: "right, or rightly undecided, of all", share: &f.AllRight},
		{name: "handled right where undecidable", share: &f.UndecidedK},
		{name: "false alarm on healthy", share: &f.Alarm, aim: "<= 1 %"},
		{name: "cannot tell, of all", share: &f.Unsure},
		{name: "cannot tell, rightly so", share: &f.UnsureOK},
		{name: "component wrong though stated at >= 0.9", share: &f.SureWrong},
		{name: "actuator or air case wrong, stated at >= 0.9", share: &f.SurePart, aim: "<= 1 %"},
		{name: "component named, of all faulty", share: &f.Detected},
	}
}

// measureRows lists the figures of what was found and measured.
func (f *figures) measureRows() []row {
	return []row{
		{name: "dead spots found, of those that left a mark", share: &f.Spot},
		{name: "noisy stretches found, of those likewise", share: &f.Noisy},
		{name: "edge of a dead spot, error of span", err: &f.Edge, aim: "median <= 1.5 %"},
		{name: "centre of a dead spot, error of span", err: &f.Centre, aim: "median <= 1.5 %"},
		{name: "percentage told for a dead spot, error", err: &f.Told, aim: "median <= 1.5 %"},
		{name: "captures with a false spot", share: &f.FalseSpot},
		{name: "jams found, of decidable ones", share: &f.JamFound},
		{name: "place of a jam, error of span", err: &f.Jam, aim: "median <= 1.5 %"},
		{name: "healthy with a false jam", share: &f.FalseJam},
		{name: "hunting found", share: &f.HuntFound},
		{name: "hunting frequency, relative error", err: &f.Hunt, aim: "within 1 %"},
		{name: "healthy with false hunting", share: &f.FalseHunt},
		{name: "drifting ends found", share: &f.Drift},
		{name: "drift slope, relative error", err: &f.Slope},
		{name: "drift over the capture, error of span", err: &f.Change},
		{name: "95 % interval of the drift holds the truth", share: &f.Cover, aim: "93..97 %"},
	}
}

func (c *calibration) write(p *printer, what string) {
	p.line("  calibration of the %s (%d stated):", what, c.Count)
	if c.Count == 0 {
		return
	}
	p.line("    expected calibration error %s, largest gap %.3f, Brier score %s", c.ECE, c.Largest, c.Brier)
	for _, b := range c.Bins {
		p.line("    stated %.3f right %.3f (%.3f..%.3f) n %d", b.Stated, b.Observed, b.Low, b.High, b.Count)
	}
}

func (s scored) String() string { return fmt.Sprintf("%.4f (%.4f..%.4f)", s.Value, s.Low, s.High) }

func (c confusion) write(p *printer) {
	head := fmt.Sprintf("  %-20s", "truth \\ said")
	for _, v := range verdicts() {
		head += fmt.Sprintf(" %12.12s", v)
	}
	p.line("%s", head)
	for _, t := range verdicts() {
		if t == cannotTell {
			continue
		}
		l := fmt.Sprintf("  %-20s", t)
		for _, v := range verdicts() {
			l += fmt.Sprintf(" %12d", c[t][v])
		}
		p.line("%s", l)
	}
}

func writeGroups(p *printer, title string, rows []group) {
	p.line("  by %s: right of decidable; right of all; false alarm; named of faulty; spots found; edge, jam, hunting, drift error (median, n)", title)
	for i := range rows {
		g := &rows[i]
		p.line("    %-20s %4d  %-20s %6.1f %%  %-9s %-20s %-9s  %s  %s  %s  %s", g.Name, g.Cases, g.Right.percent(), 100*g.AllRight.Rate, g.Alarm.of(),
			g.Detected.percent(), g.Spot.of(), g.Edge.brief(), g.Jam.brief(), g.Hunt.brief(), g.Slope.brief())
	}
}

// brief is a median with its count.
func (s spread) brief() string {
	if s.Count == 0 {
		return "     -      "
	}
	return fmt.Sprintf("%5.2f %% (%2d)", 100*s.Median, s.Count)
}

// writeWrong lists the wrong cases with their findings; with sure only those
// that are decidable and stated at 90 % or more.
func writeWrong(w io.Writer, res []outcome, sure bool) error {
	p := &printer{w: w}
	for i := range res {
		o := &res[i]
		switch {
		case o.Error != "":
			p.line("FAILED %s: %s", o.where(), o.Error)
			continue
		case o.Kind == extra, o.right(), sure && !o.sureWrong():
			continue
		}
		p.line("WRONG %s decidable %v acceptable %v: said %s %.3f (likeliest %s; part %s %.3f)", o.where(), o.Decidable, o.Acceptable, o.Said, o.Probability, o.Likeliest, o.Part, o.PartProbability)
		p.line("    %s; truth: %s", o.Variant, o.Why)
		if o.Refused != "" {
			p.line("    refused: %s", o.Refused)
		}
		for _, f := range o.findings {
			p.line("    %-18s %.2f %s", f.Kind, f.Strength, f.Title)
		}
	}
	return p.err
}

// sureWrong tells whether the verdict is wrong on a decidable case and was
// stated at 90 % or more.
func (o *outcome) sureWrong() bool {
	return o.Error == "" && o.Kind != extra && o.Decidable && o.stated() && !o.right() && o.Probability >= sureFrom
}

// where says how to make the case again.
func (o *outcome) where() string {
	kind := ""
	if o.Kind != single {
		kind = " " + o.Kind
	}
	if o.Case > 0 {
		kind += fmt.Sprintf(" case %d", o.Case)
	}
	return fmt.Sprintf("%s%s sev %.2f seed %d %s (%s, %s, %.0f Hz, %d bits)", o.Fault, kind, o.Severity, o.Seed, o.Range, o.Controller, o.Instrument, o.RateHz, o.Bits)
}

// markdown writes the table for DEVELOPERS.md, ready to paste.
func (s *summary) markdown(w io.Writer, date string) error {
	p := &printer{w: w}
	p.line("%s, `%s`. %s", date, s.Command, s.Notice)
	p.line("")
	head := []string{"figure"}
	for _, r := range s.Ranges {
		head = append(head, fmt.Sprintf("%s, for %s (%d captures)", r.Range, r.Use, r.All.Captures))
	}
	tableHead(p, append(head, "aim")...)
	if len(s.Ranges) == 0 {
		return p.err
	}
	var columns [][]row
	for i := range s.Ranges {
		columns = append(columns, s.Ranges[i].All.rows())
	}
	tableRows(p, columns)
	for _, c := range []struct {
		name, aim string
		get       func(*rangeSummary) *calibration
	}{
		{"calibration error, component", "<= 0.03", func(r *rangeSummary) *calibration { return &r.Calibration }},
		{"the same against the fault put in", "", func(r *rangeSummary) *calibration { return &r.Strict }},
		{"calibration error, part", "<= 0.03", func(r *rangeSummary) *calibration { return &r.Parts }},
	} {
		var cals []*calibration
		for k := range s.Ranges {
			cals = append(cals, c.get(&s.Ranges[k]))
		}
		tableCalibration(p, c.name, c.aim, cals)
	}
	p.line("")
	var names, ranges []string
	for _, f := range fixtures.Faults() {
		names = append(names, f.Name)
	}
	var faults [][]group
	for i := range s.Ranges {
		ranges, faults = append(ranges, s.Ranges[i].Range), append(faults, s.Ranges[i].Faults)
	}
	tableFaults(p, names, ranges, faults)
	return p.err
}

// tableHead begins a table.
func tableHead(p *printer, cells ...string) {
	p.line("| %s |", strings.Join(cells, " | "))
	p.line("|%s", strings.Repeat("---|", len(cells)))
}

// tableRows writes figures side by side, a column for each range, and the aims.
func tableRows(p *printer, columns [][]row) {
	for i, r := range columns[0] {
		l := "| " + r.name + " |"
		for _, rows := range columns {
			c := rows[i]
			if c.err != nil {
				l += fmt.Sprintf(" %s (n %d) |", c.err.percent(), c.err.Count)
			} else {
				l += fmt.Sprintf(" %s |", c.share.percent())
			}
		}
		p.line("%s %s |", l, r.aim)
	}
}

// tableCalibration writes the two scores of probabilities in such a table.
func tableCalibration(p *printer, name, aim string, columns []*calibration) {
	l, b := "| "+name+" |", "| Brier score of the same |"
	for _, c := range columns {
		l += fmt.Sprintf(" %.3f (%.3f..%.3f) |", c.ECE.Value, c.ECE.Low, c.ECE.High)
		b += fmt.Sprintf(" %.3f (%.3f..%.3f) |", c.Brier.Value, c.Brier.Low, c.Brier.High)
	}
	p.line("%s %s |", l, aim)
	p.line("%s |", b+" ")
}

// tableFaults writes how each fault was judged, two columns for each range.
func tableFaults(p *printer, names, ranges []string, faults [][]group) {
	head := []string{"fault"}
	for _, r := range ranges {
		head = append(head, r+": right of decidable", "cannot tell")
	}
	tableHead(p, head...)
	for _, name := range names {
		l := "| " + name + " |"
		for k := range ranges {
			cell := " - | - |"
			for _, g := range faults[k] {
				if g.Name == name {
					cell = fmt.Sprintf(" %s | %s |", g.Right.of(), g.Unsure.of())
				}
			}
			l += cell
		}
		p.line("%s", l)
	}
}
