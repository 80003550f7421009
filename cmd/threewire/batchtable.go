package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"threewire/analyze"
)

// judgement is one verdict on one actuator: of a capture, or of a coupled and
// a free one together, which count once.
type judgement struct {
	*batchVerdict
	row *batchRow
}

// judgements reads sorted rows.
func judgements(rows []*batchRow) []judgement {
	var out []judgement
	joined := map[string]bool{}
	copied := copies(rows)
	for _, r := range rows {
		switch {
		case copied[r] != nil:
		case r.Joined != nil:
			if !joined[r.occasion()] {
				out = append(out, judgement{r.Joined, r})
			}
			joined[r.occasion()] = true
		case r.Result != nil:
			out = append(out, judgement{&r.Result.batchVerdict, r})
		}
	}
	return out
}

// actuatorLine sums up one actuator.
type actuatorLine struct {
	name                         string
	judged, faulty, open, failed int
	latest                       judgement
	before, after                judgement // the latest of each phase
	drift                        drift
	copyOf                       *batchRow // what its last copy has the bytes of
}

// sureOfFault is the probability of the fault that was found last, 0 for none.
func (l *actuatorLine) sureOfFault() float64 {
	if l.latest.row == nil || l.latest.Conclusion == analyze.NoFault.String() || l.latest.Conclusion == analyze.CannotTell.String() {
		return 0
	}
	return l.latest.Probability
}

// actuators sums up rows by actuator, the ones most often faulty first, of those the
// ones that are surest to be so now.
func actuators(rows []*batchRow) []*actuatorLine {
	byName := map[string]*actuatorLine{}
	line := func(r *batchRow) *actuatorLine {
		if byName[r.Actuator] == nil {
			byName[r.Actuator] = &actuatorLine{name: r.Actuator}
		}
		return byName[r.Actuator]
	}
	copied := copies(rows)
	for _, r := range rows {
		if r.Error != "" {
			line(r).failed++
		}
		// Whoever looks for a name finds it, though its captures count elsewhere.
		if f := copied[r]; f != nil {
			line(r).copyOf = f
		}
	}
	later := func(was *judgement, j judgement) {
		if was.row == nil || inTime(was.row, j.row) < 0 {
			*was = j
		}
	}
	for _, j := range judgements(rows) {
		l := line(j.row)
		l.judged++
		switch j.Conclusion {
		case analyze.NoFault.String():
		case analyze.CannotTell.String():
			l.open++
		default:
			l.faulty++
		}
		later(&l.latest, j)
		switch j.row.Phase {
		case "before":
			later(&l.before, j)
		case "after":
			later(&l.after, j)
		}
	}
	trend := drifts(rows)
	list := make([]*actuatorLine, 0, len(byName))
	for _, l := range byName {
		l.drift = trend[l.name]
		list = append(list, l)
	}
	slices.SortFunc(list, func(a, b *actuatorLine) int {
		return cmp.Or(cmp.Compare(b.faulty, a.faulty), cmp.Compare(b.sureOfFault(), a.sureOfFault()), cmp.Compare(b.open, a.open),
			compareFlags(b.drift.matters(), a.drift.matters()), cmp.Compare(b.failed, a.failed), natural(a.name, b.name), strings.Compare(a.name, b.name))
	})
	return list
}

// last says what is known of the actuator last.
func (l *actuatorLine) last() string {
	switch {
	case l.latest.row == nil && l.copyOf != nil:
		return "copy of " + oneLine(l.copyOf.Path)
	case l.latest.row == nil:
		return "-"
	}
	var more []string
	// Of "cannot tell" it is the probability of the likeliest fault.
	if l.latest.Conclusion != analyze.CannotTell.String() {
		more = append(more, sure(l.latest.Probability))
	}
	if l.latest.row.Free && l.latest.row.Joined == nil {
		more = append(more, "uncoupled only")
	}
	text := l.latest.Conclusion
	if len(more) > 0 {
		text = fmt.Sprintf("%s (%s)", text, strings.Join(more, ", "))
	}
	if l.drift.matters() { // a capture alone does not see what its series tells
		but := "; but"
		if l.latest.Conclusion == analyze.FeedbackSensor.String() {
			but = "; and"
		}
		text += fmt.Sprintf("%s over %d captures its %s drifts, which points to the feedback sensor", but, l.drift.captures, l.drift.what)
	}
	return text
}

// odd is how many of the actuators, which begin with them, are out of the ordinary: with a
// fault, undecided, drifting, or with captures that were not read.
func odd(lines []*actuatorLine) int {
	n := 0
	for _, l := range lines {
		if l.faulty > 0 || l.open > 0 || l.failed > 0 || l.drift.matters() {
			n++
		}
	}
	return n
}

// compareFlags orders false before true.
func compareFlags(a, b bool) int {
	n := map[bool]int{true: 1}
	return cmp.Compare(n[a], n[b])
}

// writeTable prints the tables by fault, by part and by actuator; of the
// actuators at most limit, 0 being all.
func writeTable(w io.Writer, rows []*batchRow, limit int) error {
	var text strings.Builder
	if err := tables(&text, rows, limit); err != nil {
		return err
	}
	return foldAsked(w, text.String())
}

// tables writes them in lines of any width.
func tables(w io.Writer, rows []*batchRow, limit int) error {
	list := judgements(rows)
	pairs, failed := 0, 0
	for _, j := range list {
		if j.row.Joined != nil {
			pairs++
		}
	}
	for _, r := range rows {
		if r.Error != "" {
			failed++
		}
	}
	fmt.Fprintf(w, "%s, %s", plural(len(rows), "capture"), plural(len(list), "verdict"))
	if pairs > 0 {
		fmt.Fprintf(w, " (%s coupled with free)", plural(pairs, "set"))
	}
	if n := len(copies(rows)); n == 1 {
		fmt.Fprint(w, ", 1 copy")
	} else if n > 1 {
		fmt.Fprintf(w, ", %d copies", n)
	}
	fmt.Fprintf(w, ", %d not read\n", failed)

	count := func(title string, names []string, of func(judgement) string) {
		fmt.Fprintf(w, "\n%s\n", title)
		n := map[string]int{}
		for _, j := range list {
			n[of(j)]++
		}
		slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(n[b], n[a]) })
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		for _, name := range names {
			if n[name] > 0 {
				fmt.Fprintf(t, "  %s\t%5d\t%3.0f %%\n", name, n[name], 100*float64(n[name])/float64(len(list)))
			}
		}
		t.Flush()
	}
	var faults, parts []string
	for _, f := range append(analyze.Faults(), analyze.CannotTell) {
		faults = append(faults, f.String())
		if p := f.Part(); !slices.Contains(parts, p) {
			parts = append(parts, p)
		}
	}
	if len(list) > 0 {
		count("By fault", faults, func(j judgement) string { return j.Conclusion })
		count("By part", parts, func(j judgement) string { return j.Part })
	}

	lines := actuators(rows)
	shown := lines
	if limit > 0 && len(lines) > limit {
		shown = lines[:limit]
	}
	writeActuators(w, shown)
	writeHidden(w, lines[len(shown):])
	writePhases(w, lines)
	writeErrors(w, rows, failed)
	writeAlone(w, rows)
	writeCopies(w, rows)
	return writeDrifts(w, lines)
}

// writeActuators prints the table by actuator; two lines each where a line of the table is
// wider than what was asked for, as a terminal would break it through the columns.
func writeActuators(w io.Writer, lines []*actuatorLine) {
	fmt.Fprintf(w, "\nBy actuator\n")
	var table strings.Builder
	t := tabwriter.NewWriter(&table, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  actuator\tverdicts\tfaulty\tcannot tell\tnot read\tlatest\n")
	for _, l := range lines {
		fmt.Fprintf(t, "  %s\t%d\t%d\t%d\t%d\t%s\n", oneLine(l.name), l.judged, l.faulty, l.open, l.failed, l.last())
	}
	t.Flush()
	width, asked := lineWidth()
	widest := 0
	for line := range strings.Lines(table.String()) {
		widest = max(widest, utf8.RuneCountInString(strings.TrimRight(line, "\n")))
	}
	if !asked || widest <= width {
		io.WriteString(w, table.String())
		return
	}
	for _, l := range lines {
		fmt.Fprintf(w, "  %s\n", oneLine(l.name)) // whole, to be copied
		text := plural(l.judged, "verdict")
		for _, n := range []struct {
			count int
			of    string
		}{{l.faulty, "faulty"}, {l.open, "cannot tell"}, {l.failed, "not read"}} {
			if n.count > 0 {
				text += fmt.Sprintf(", %d %s", n.count, n.of)
			}
		}
		if last := l.last(); last != "-" {
			text += "; latest: " + last
		}
		wrapTo(w, width, "    ", "    ", text)
	}
}

// writeHidden prints what the actuators are that the table has no room for.
func writeHidden(w io.Writer, lines []*actuatorLine) {
	if len(lines) == 0 {
		return
	}
	faulty, open := 0, 0
	for _, l := range lines {
		switch {
		case l.faulty > 0:
			faulty++
		case l.open > 0:
			open++
		}
	}
	fmt.Fprintf(w, "  and %d more", len(lines))
	if faulty > 0 {
		fmt.Fprintf(w, ", %d of them with a fault", faulty)
	}
	if open > 0 {
		fmt.Fprintf(w, ", %d undecided", open)
	}
	fmt.Fprint(w, " (--actuators 0 shows all)\n")
}

// writePhases prints what a repair changed.
func writePhases(w io.Writer, lines []*actuatorLine) {
	title := "\nBefore and after\n"
	for _, l := range lines {
		if l.before.row == nil || l.after.row == nil {
			continue
		}
		fmt.Fprintf(w, "%s  %s: %s before, %s after", title, oneLine(l.name), l.before.Conclusion, l.after.Conclusion)
		r := l.after.row.Repair
		if r != nil {
			fmt.Fprintf(w, ": %s", r.Result)
		}
		fmt.Fprintln(w)
		if r != nil && l.unlike(r) {
			note(w, oneLine(l.whyRepair(r)))
		}
		title = ""
	}
}

// whyRepair says why a repair came out so.
func (l *actuatorLine) whyRepair(r *batchRepair) string {
	if r.Result == string(analyze.RepairProven) && l.before.Conclusion == analyze.CannotTell.String() {
		return "Before, something was plainly wrong, though not which part it was. " + r.Text
	}
	return r.Text
}

// unlike tells whether a repair's result does not follow from the verdicts before and
// after, so that it wants a word of why: each verdict is of one capture, and the proof
// compares them finding by finding.
func (l *actuatorLine) unlike(r *batchRepair) bool {
	sound := func(j judgement) bool { return j.Conclusion == analyze.NoFault.String() }
	fault := func(j judgement) bool { return !sound(j) && j.Conclusion != analyze.CannotTell.String() }
	switch r.Result {
	case string(analyze.RepairProven):
		return !fault(l.before) || !sound(l.after)
	case string(analyze.RepairNotProven):
		return !fault(l.after)
	}
	return fault(l.before) || l.before.Conclusion == analyze.CannotTell.String()
}

// maxErrors is how many errors the table shows; the rows have them all.
const maxErrors = 10

// writeErrors prints what could not be read.
func writeErrors(w io.Writer, rows []*batchRow, failed int) {
	if failed == 0 {
		return
	}
	section(w, "Not read")
	n := 0
	for _, r := range rows {
		if r.Error == "" {
			continue
		}
		if n++; n > maxErrors {
			fmt.Fprintf(w, "  and %d more (see --out or --csv)\n", failed-maxErrors)
			return
		}
		text := oneLine(r.Error)
		if !strings.Contains(r.Error, r.Path) {
			text = oneLine(r.Path) + ": " + text
		}
		item(w, text)
	}
}

// writeDrifts prints the trends that are more than chance.
func writeDrifts(w io.Writer, lines []*actuatorLine) error {
	tested, seen := 0, 0
	for _, l := range lines {
		if l.drift.what != "" {
			tested++
		}
	}
	if tested == 0 {
		_, err := fmt.Fprintf(w, "\nNo span drift was tested: that needs %d coupled captures of one actuator that reach both stops.\n", analyze.TrendLeast)
		return err
	}
	fmt.Fprintf(w, "\nSpan drift over captures\n")
	for _, l := range lines {
		if d := &l.drift; d.seen() {
			seen++
			item(w, fmt.Sprintf("%s: %s.", oneLine(l.name), d.line()))
		}
	}
	_, err := fmt.Fprintf(w, "  %s tested, %d drifting; a test needs %d coupled captures that reach both stops\n", plural(tested, "actuator"), seen, analyze.TrendLeast)
	return err
}

func plural(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}

// oneLine keeps line ends and other control characters in names from
// breaking a table, or from reaching a terminal.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return '?'
		}
		return r
	}, s)
}
