package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"threewire/analyze"
	"threewire/signal"
)

// headline is the verdict in one line.
func headline(v *analyze.Verdict) string {
	switch v.Conclusion {
	case analyze.CannotTell:
		s := "CANNOT TELL. " + v.Summary
		if v.Part != "cannot tell" && v.Part != "none" {
			s += fmt.Sprintf(" Either way the part is: %s (%s).", v.Part, sure(v.PartChances[0].Probability))
		}
		return s
	case analyze.NoFault:
		return fmt.Sprintf("NO FAULT FOUND (%s). %s", sure(v.Probability), v.Summary)
	}
	return fmt.Sprintf("%s (%s). %s", strings.ToUpper(v.Conclusion.String()), sure(v.Probability), v.Summary)
}

// sure words a probability without claiming certainty.
func sure(p float64) string {
	switch {
	case p > 0.99:
		return "over 99 %"
	case p < 0.01:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// writeText is the output for a person: verdict, evidence, limits, next test,
// cautions, and how the file was read. Colour only repeats what words say.
func writeText(w io.Writer, rep *analyze.Report, traces, others []*signal.Trace, colour bool) {
	v := &rep.Verdict
	strong := func(s string) string {
		if colour {
			return "\x1b[1m" + s + "\x1b[0m"
		}
		return s
	}
	fmt.Fprintln(w, strong(headline(v)))
	if v.Conclusion != analyze.CannotTell && v.Conclusion != analyze.NoFault {
		fmt.Fprintf(w, "Part: %s (%s)\n", v.Part, sure(partChance(v, v.Part)))
	}
	if v.Chain != "" {
		wrap(w, "", "", v.Chain)
	}
	if rep.Repair != nil {
		fmt.Fprintln(w, strong(repairLine(rep.Repair)))
	}
	writeTogether(w, rep, strong)
	section(w, strong("Chances"))
	for _, c := range v.Chances {
		fmt.Fprintf(w, "  %-18s %s\n", c.Fault, sure(c.Probability))
	}
	best := v.Chances[0].Fault.String()
	evidence := func(title string, list []analyze.Evidence) {
		if len(list) == 0 {
			return
		}
		section(w, strong(title))
		for _, e := range list {
			text := e.Text
			if e.Capture != "" {
				text = e.Capture + ": " + text
			}
			item(w, text)
			from, to := fmt.Sprintf("%.2f", e.Time.From), fmt.Sprintf("%.2f", e.Time.To)
			if e.Time.To > e.Time.From && from == to {
				note(w, fmt.Sprintf("At %s s. %s", from, sentence(e.Because)))
			} else if e.Time.To > e.Time.From {
				note(w, fmt.Sprintf("%s to %s s. %s", from, to, sentence(e.Because)))
			} else {
				note(w, sentence(e.Because))
			}
			if e.Tie != "" {
				note(w, sentence(e.Tie))
			}
		}
	}
	if v.Conclusion == analyze.CannotTell {
		evidence("What was found", slices.Concat(v.For, v.Against))
	} else {
		// Less than three to two is no evidence against anything.
		little, against := []analyze.Evidence{}, []analyze.Evidence{}
		for _, e := range v.Against {
			if e.Ratio < 2./3 {
				against = append(against, e)
			} else {
				little = append(little, e)
			}
		}
		evidence("Evidence for "+best, v.For)
		evidence("Found too, but decides little", little)
		evidence("Evidence against "+best, against)
	}
	list(w, strong("Looked for and not found"), v.Absent)
	list(w, strong("What this capture cannot tell"), v.Unknown)
	writeController(w, rep, strong)
	if len(v.Next) > 0 && (v.Conclusion != analyze.NoFault || v.Probability < 0.9) {
		section(w, strong("Next test"))
		some := slices.ContainsFunc(v.Next, func(t analyze.NextTest) bool { return t.Turns })
		if !some && v.Conclusion != analyze.CannotTell {
			item(w, "No likely outcome turns the verdict; a test only makes it surer before parts are bought.")
		}
		for i, t := range v.Next {
			item(w, fmt.Sprintf("%s (about %.0f min)", t.Name, t.Minutes))
			if i == 0 {
				for _, p := range t.Procedure {
					note(w, p)
				}
			}
			for _, o := range t.Outcomes {
				note(w, sentence(o))
			}
			if some && !t.Turns && v.Conclusion != analyze.CannotTell {
				note(w, "Whatever it shows, the verdict is likely to stay.")
			}
		}
	}
	if rep.Choice != nil {
		writeRepairChoice(w, rep.Choice, strong)
	}
	list(w, strong("Cautions"), v.Cautions)
	section(w, strong("How it was read"))
	for i, c := range rep.Captures {
		writeRead(w, c, traces[i], "")
	}
	for i, c := range rep.Before {
		writeRead(w, c, others[i], ", before the repair")
	}
	for i, c := range rep.Good {
		writeRead(w, c, others[len(rep.Before)+i], ", good side")
	}
}

// writeRead says how one capture was read.
func writeRead(w io.Writer, c *analyze.Capture, t *signal.Trace, which string) {
	item(w, readLine(c, t, which))
	for _, col := range t.Columns {
		if col.Role != signal.Unused {
			note(w, columnLine(col))
		}
	}
	if a := c.Against; a != nil && a.Used {
		note(w, a.Text)
	}
	for _, n := range c.Notes {
		note(w, "Note: "+n)
	}
}

// readLine says what was in a file.
func readLine(c *analyze.Capture, t *signal.Trace, which string) string {
	if c.Free {
		which = ", uncoupled" + which
	}
	span := c.Span
	if span.Width() <= 0 { // nothing moved
		span = analyze.Interval{From: t.Feedback.Stats.Min, To: t.Feedback.Stats.Max}
	}
	digits := 2
	if c.Unit != "V" && span.To >= 20 {
		digits = 0 // counts have no parts
	}
	return fmt.Sprintf("%s%s: %s, %.1f s, one every %s; %s, %s, feedback %.*f to %.*f %s, noise %s",
		c.Source, which, plural(int(c.Rows), "row"), c.Duration, stepText(t.RowStep), plural(len(c.Moves), "move"), plural(len(c.Sweeps), "sweep"),
		digits, span.From, digits, span.To, c.Unit, noiseText(c))
}

func noiseText(c *analyze.Capture) string {
	if c.Unit == "V" {
		return fmt.Sprintf("%.1f mV", 1000*c.Noise)
	}
	return fmt.Sprintf("%.2g %s", c.Noise, c.Unit)
}

func stepText(s float64) string {
	switch {
	case s < 0.9995e-3:
		return fmt.Sprintf("%.3g us", 1e6*s)
	case s < 1:
		return fmt.Sprintf("%.3g ms", 1e3*s)
	}
	return fmt.Sprintf("%.3g s", s)
}

func columnLine(c signal.Column) string {
	name := ""
	if c.Name != "" {
		name = fmt.Sprintf(" %q", c.Name)
	}
	return fmt.Sprintf("column %d%s: %s (%s)", c.Number, name, c.Role, c.Reason)
}

func partChance(v *analyze.Verdict, part string) float64 {
	for _, c := range v.PartChances {
		if c.Part == part {
			return c.Probability
		}
	}
	return 0
}

// sentence gives a text a capital and a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}

func section(w io.Writer, title string) { fmt.Fprintf(w, "\n%s\n", title) }

func list(w io.Writer, title string, items []string) {
	if len(items) == 0 {
		return
	}
	section(w, title)
	for _, s := range items {
		item(w, sentence(s))
	}
}

func item(w io.Writer, s string) { wrap(w, "  - ", "    ", s) }
func note(w io.Writer, s string) { wrap(w, "      ", "      ", s) }

// wrap breaks a text into lines of at most 96 characters.
func wrap(w io.Writer, first, rest, s string) {
	const width = 96
	line := first
	empty := true
	for _, word := range strings.Fields(s) {
		if !empty && len([]rune(line))+1+len([]rune(word)) > width {
			fmt.Fprintln(w, line)
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	fmt.Fprintln(w, line)
}
