package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/pflag"

	"threewire/signal"
)

const columnsUsage = `Usage: threewire columns [flags] FILE

Shows how FILE is read: its shape, what the preamble tells, the time base, and
for every column its unit, range and role with the reason. "-" reads standard
input. Nothing is judged.

Flags:
`

// columns shows how a file is read. It returns 0, or 2 when it cannot be read.
func columns(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("columns", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	asJSON := fs.Bool("json", false, "print the same as JSON")
	rf := addReadFlags(fs)
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire columns: %v\n", err)
		return 2
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, columnsUsage, flagHelp(fs))
			return 0
		}
		return fail(flagError(fs, err))
	}
	if fs.NArg() != 1 {
		return fail(fmt.Errorf("expected one FILE, or - for standard input, got %d arguments", fs.NArg()))
	}
	name := fs.Arg(0)
	o, err := rf.options(name)
	if err != nil {
		return fail(err)
	}
	src, err := openCapture(ctx, name, stdin)
	if err != nil {
		return fail(err)
	}
	defer src.Close()
	l, err := signal.Inspect(src, o)
	if err != nil {
		return fail(err)
	}
	if *asJSON {
		e := json.NewEncoder(stdout)
		e.SetIndent("", "  ")
		e.SetEscapeHTML(false)
		if err := e.Encode(l); err != nil {
			return fail(err)
		}
		return 0
	}
	if err := printLayout(stdout, l); err != nil {
		return fail(err)
	}
	return 0
}

// columnTable lists the columns. Where a width is asked for, the reasons stand below.
func columnTable(w io.Writer, l *signal.Layout) error {
	_, narrow := lineWidth()
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	last := "\treason"
	if narrow {
		last = ""
	}
	fmt.Fprintln(t, "#\tname\tunit\tfrom\tto\tmissing\trole"+last)
	for _, c := range l.Columns {
		if !narrow {
			last = "\t" + oneLine(c.Reason)
		}
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\t%s\t%s\t%s%s\n", c.Number, oneLine(dash(c.Name)), oneLine(dash(unitWithScale(&c))), short(c.Min), short(c.Max), missing(&c), c.Role, last)
	}
	if err := t.Flush(); err != nil || !narrow {
		return err
	}
	for _, c := range l.Columns {
		wrap(w, fmt.Sprintf("column %d: ", c.Number), "  ", oneLine(c.Reason))
	}
	return nil
}

func printLayout(w io.Writer, l *signal.Layout) error {
	var b strings.Builder
	for _, line := range layoutLines(l) {
		wrapAsked(&b, "", "  ", oneLine(line))
	}
	b.WriteString("\n")
	if err := columnTable(&b, l); err != nil {
		return err
	}
	var notes []string
	for _, n := range l.Notes {
		notes = append(notes, n.Text)
	}
	if s := converterTaken(l); s != "" {
		notes = append(notes, s)
	}
	if len(notes) > 0 || l.Problem != "" {
		b.WriteString("\n")
	}
	for _, n := range notes {
		wrapAsked(&b, "note: ", "      ", oneLine(n))
	}
	if l.Problem != "" {
		wrapAsked(&b, "not ready to check: ", "  ", oneLine(strings.TrimPrefix(l.Problem, l.Source+": ")))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// converterTaken says which converter a check takes for a feedback in counts; "" where it is
// in none, or the sensor's supply is in them too.
func converterTaken(l *signal.Layout) string {
	top := 0.0
	for _, c := range l.Columns {
		switch {
		case c.Role == signal.Reference.String() && c.Unit == "counts":
			return ""
		case c.Role == signal.Feedback.String() && c.Unit == "counts" && c.Scale == 1 && c.Max != nil: // a factor tells
			top = *c.Max
		}
	}
	if top <= 0 {
		return ""
	}
	full := signal.FullCounts(top)
	return fmt.Sprintf("the feedback is in counts of a converter that the file does not tell: a check takes one of %.0f bits, 0 to %.0f, the smallest that holds the readings", math.Log2(full+1), full)
}

// layoutLines says how a file is read, but for its columns.
func layoutLines(l *signal.Layout) []string {
	shape := fmt.Sprintf("%s: %s, %s line ends, %s between cells, decimal %q", l.Source, l.Encoding, l.LineEnd, l.Delimiter, l.DecimalMark)
	if l.Gzip {
		shape += ", gzip"
	}
	rows := fmt.Sprintf("data from line %d", l.DataLine)
	if l.NamesLine > 0 {
		rows += fmt.Sprintf(", names in line %d", l.NamesLine)
	}
	if l.UnitsLine > 0 {
		rows += fmt.Sprintf(", units in line %d", l.UnitsLine)
	}
	rows += fmt.Sprintf(", %d rows", l.Rows)
	if l.PerRow > 1 {
		rows += fmt.Sprintf(" of %d values of one series", l.PerRow)
	}
	out := []string{shape, rows}
	for _, f := range l.Facts {
		key := f.Key
		if key != "" {
			key += " = "
		}
		out = append(out, fmt.Sprintf("preamble line %d: %s%s, taken as %s", f.Line, key, f.Value, f.Use))
	}
	out = append(out, timeLine(&l.Time))
	if l.RowsPerBin > 1 {
		out = append(out, fmt.Sprintf("reduced to bins of %d rows", l.RowsPerBin))
	}
	return out
}

func timeLine(t *signal.TimeLayout) string {
	var b strings.Builder
	switch t.Source {
	case "column":
		fmt.Fprintf(&b, "time from column %d (%s)", t.Column, t.Reason)
	case "clock":
		fmt.Fprintf(&b, "time from the clock in column %d", t.Column)
		if t.Column2 > 0 {
			fmt.Fprintf(&b, " and %d", t.Column2)
		}
		fmt.Fprintf(&b, " (%s)", t.Reason)
	case "count":
		fmt.Fprintf(&b, "time counted by rows from %s", t.Reason)
	default:
		fmt.Fprintf(&b, "no time base: %s", t.Reason)
		return b.String()
	}
	fmt.Fprintf(&b, ": step %s s (%s Hz), ", num(t.Step), num(t.Rate))
	if t.Uniform {
		b.WriteString("even")
	} else {
		b.WriteString("uneven")
	}
	fmt.Fprintf(&b, ", from %s to %s s", num(t.From), num(t.To))
	if t.Start != nil {
		fmt.Fprintf(&b, ", start %s", t.Start.Format(time.RFC3339Nano))
	}
	return b.String()
}

func num(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func short(v *float64) string {
	if v == nil || math.IsNaN(*v) {
		return "-"
	}
	return num(*v)
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

func unitWithScale(c *signal.ColumnLayout) string {
	if c.Scale == 1 || c.Scale == 0 {
		return c.Unit
	}
	return fmt.Sprintf("%s x%s", c.Unit, num(c.Scale))
}

func missing(c *signal.ColumnLayout) string {
	if c.Overflow > 0 {
		return fmt.Sprintf("%d (%d overflow)", c.Missing, c.Overflow)
	}
	return strconv.FormatInt(c.Missing, 10)
}
