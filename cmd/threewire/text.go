package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"threewire/analyze"
	"threewire/signal"
)

// verdictName is the verdict with its probability, and what it rests on.
func verdictName(v *analyze.Verdict) (name, summary string) {
	switch v.Conclusion {
	case analyze.CannotTell:
		summary = v.Summary
		if v.Part != "cannot tell" && v.Part != "none" {
			summary += fmt.Sprintf(" Either way the part is: %s (%s).", v.Part, sure(v.PartChances[0].Probability))
		}
		return "CANNOT TELL.", summary
	case analyze.NoFault:
		return fmt.Sprintf("NO FAULT FOUND (%s).", sure(v.Probability)), v.Summary
	}
	return fmt.Sprintf("%s (%s).", strings.ToUpper(v.Conclusion.String()), sure(v.Probability)), v.Summary
}

// headline is the verdict in one line.
func headline(v *analyze.Verdict) string {
	name, summary := verdictName(v)
	return name + " " + summary
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

// tell says what came of a check: verdict, evidence, next test, limits,
// cautions, and how the files were read.
func tell(j *judged) *statement {
	rep, v := j.report, &j.report.Verdict
	s := &statement{Chain: v.Chain, Ask: j.asks()}
	s.Name, s.Summary = verdictName(v)
	if v.Conclusion != analyze.CannotTell && v.Conclusion != analyze.NoFault {
		s.Part = fmt.Sprintf("Part: %s (%s)", v.Part, sure(partChance(v, v.Part)))
	}
	s.Doubts = doubtLines(rep)
	if rep.Repair != nil {
		s.Repair = repairLine(rep.Repair)
	}
	s.together(rep)
	s.chances(rep)
	s.found(v)
	s.remarks(rep)
	if rep.DoorLoad != "" {
		s.list("With the door and without", []string{rep.DoorLoad})
	}
	// What to do comes before what is looked up: who reads no further than the evidence
	// still finds it.
	s.nextTests(rep)
	s.list("What would make it surer", rep.Surer())
	s.list("If the complaint stays", v.IfComplaintStays())
	if rep.Choice != nil {
		s.repairChoice(rep)
	}
	s.list(absentTitle, v.Absent)
	s.list("What this capture cannot tell", v.Unknown)
	s.controller(rep)
	s.list("Cautions", v.Cautions)
	s.readings(j)
	return s
}

// mostDoubts is how many doubts stand beside a verdict: more are not read there.
const mostDoubts = 2

// doubtLines says on what the verdict hangs of how the files were read.
func doubtLines(rep *analyze.Report) []string {
	var out []string
	all := rep.Doubts()
	for i, d := range all {
		if i == mostDoubts {
			out = append(out, fmt.Sprintf("And %s under “%s”.", plural(len(all)-i, "more doubt"), readTitle))
			break
		}
		out = append(out, "In doubt: "+sentence(d.Text))
	}
	return out
}

// saidBeside tells whether a note stands beside the verdict already.
func (s *statement) saidBeside(note string) bool {
	return slices.ContainsFunc(s.Doubts, func(d string) bool { return strings.HasSuffix(d, sentence(note)) || strings.HasSuffix(d, note+".") })
}

// chances lists how likely each component is.
func (s *statement) chances(rep *analyze.Report) {
	if rep.NothingSeen() {
		// A row of bars would read as if something spoke for the longest.
		s.list("Chances", []string{"None are told, because nothing was tested: no component is likelier, and none is cleared"})
		return
	}
	s.section("Chances")
	for _, c := range rep.Verdict.Chances {
		s.row(c.Fault.String(), sure(c.Probability), c.Probability)
	}
}

// found lists the evidence: where nothing is concluded as what was found, else by
// what it says of the conclusion.
func (s *statement) found(v *analyze.Verdict) {
	if v.Conclusion == analyze.CannotTell {
		s.evidence("What was found", slices.Concat(v.For, v.Against))
		return
	}
	var little, against []analyze.Evidence
	for _, e := range v.Against {
		if e.Doubts() {
			against = append(against, e)
		} else {
			little = append(little, e)
		}
	}
	pro, contra := evidenceTitles(v)
	s.evidence(pro, v.For)
	s.evidence("Found too, but decides little", little)
	s.evidence(contra, against)
}

// evidence lists findings with when they were seen, why they count, and what they are
// tied to.
func (s *statement) evidence(title string, list []analyze.Evidence) {
	if len(list) == 0 {
		return
	}
	s.section(title)
	for _, e := range list {
		text := e.Text
		if e.Capture != "" {
			text = e.Capture + ": " + text
		}
		s.item(text)
		if when := e.When(); when != "" {
			s.note(when + ". " + sentence(e.Because))
		} else {
			s.note(sentence(e.Because))
		}
		if e.Tie != "" {
			s.note(sentence(e.Tie))
		}
	}
}

// mostRemarks is how many remarks of a capture are told; JSON has them all.
const mostRemarks = 8

// remarks are what people wrote into the files.
func (s *statement) remarks(rep *analyze.Report) {
	title := false
	for _, c := range slices.Concat(rep.Captures, rep.Before, rep.Good) {
		texts := c.RemarksText(mostRemarks)
		if len(texts) == 0 {
			continue
		}
		if !title {
			s.section("Remarks in the recording")
			title = true
		}
		if len(rep.Captures)+len(rep.Before)+len(rep.Good) == 1 {
			for _, t := range texts {
				s.item(upperFirst(t))
			}
			continue
		}
		s.item(c.Source + ":")
		for _, t := range texts {
			s.note(upperFirst(t))
		}
	}
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// nextTests lists what to test next, each with its whole procedure.
func (s *statement) nextTests(rep *analyze.Report) {
	v := &rep.Verdict
	if len(v.Next) == 0 || !v.WorthTesting() {
		return
	}
	s.section(testTitle)
	turns := slices.ContainsFunc(v.Next, func(t analyze.NextTest) bool { return t.Turns })
	if !turns && v.Conclusion != analyze.CannotTell {
		s.item("No likely outcome turns the verdict; a test only makes it surer before parts are bought.")
	}
	told, others := v.Next, []string(nil)
	if !turns && v.Conclusion != analyze.CannotTell {
		// Of what changes nothing one is told in full, the others by name.
		for _, t := range v.Next[1:] {
			others = append(others, fmt.Sprintf("%s (about %.0f min)", t.Name, t.Minutes))
		}
		told = v.Next[:1]
	}
	for i, t := range told {
		s.item(fmt.Sprintf("%s (about %.0f min)", t.Name, t.Minutes))
		if i == 0 {
			if rep.Choice != nil && rep.Choice.Moved != nil {
				s.note(movedLine(rep.Choice))
			}
			if _, decided := rep.PricesDecide(); decided {
				s.note("By your prices no test pays: what to do instead stands below.")
			}
		}
		// Outcomes mean nothing to who does not know what to do for them.
		for _, p := range t.Procedure {
			s.note(p)
		}
		for _, o := range t.Outcomes {
			s.note(sentence(o))
		}
		if turns && !t.Turns && v.Conclusion != analyze.CannotTell {
			s.note("Whatever it shows, the verdict is likely to stay.")
		}
	}
	if len(others) > 0 {
		s.item("Or: " + strings.Join(others, "; ") + ".")
	}
}

// readings says how every file was read.
func (s *statement) readings(j *judged) {
	rep := j.report
	s.section(readTitle)
	for i, c := range rep.Captures {
		s.read(c, j.traces[i], "")
	}
	for i, c := range rep.Before {
		s.read(c, j.others[i], ", before the repair")
	}
	for i, c := range rep.Good {
		s.read(c, j.others[len(rep.Before)+i], ", good side")
	}
}

// evidenceTitles head what was found for the conclusion and against it: of "no fault",
// what is found is either no fault's doing or a reason for doubt.
func evidenceTitles(v *analyze.Verdict) (pro, contra string) {
	if v.Conclusion == analyze.NoFault {
		return "Found, but a sound actuator can do it too", "Signs of a fault, too weak to call it one"
	}
	best := v.Chances[0].Fault.String()
	return "Evidence for " + best, "Evidence against " + best
}

// read says how one capture was read.
func (s *statement) read(c *analyze.Capture, t *signal.Trace, which string) {
	s.item(readLine(c, t, which))
	for _, col := range t.Columns {
		if col.Role != signal.Unused {
			s.note(columnLine(col))
		}
	}
	if c.Sense < 0 {
		s.note("Up means that the reading rises: here it does while the drive is negative.")
	}
	if a := c.Against; a != nil && a.Used {
		s.note(a.Text)
	}
	for _, n := range c.Notes {
		if !s.saidBeside(n) {
			s.note("Note: " + n)
		}
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
	moves := plural(len(c.Moves), "move")
	if c.Span.Width() <= 0 && len(c.Moves) > 0 {
		// And the reading answered none of it.
		if moves = "driven once"; len(c.Moves) > 1 {
			moves = "driven " + plural(len(c.Moves), "time")
		}
	}
	digits := 2
	if c.Unit != "V" && span.To >= 20 {
		digits = 0 // counts have no parts
	}
	return fmt.Sprintf("%s%s: %s, %.1f s, one every %s; %s, %s, feedback %.*f to %.*f %s%s, noise %s at rest",
		c.Source, which, plural(int(c.Rows), "row"), c.Duration, analyze.SecondsText(t.RowStep), moves, plural(len(c.Sweeps), "sweep")+" over most of the travel seen",
		digits, span.From, digits, span.To, c.Unit, outsideText(t.Feedback.Mean, span, digits), noiseText(c))
}

// outsideText says which share of the readings lies outside of the span, and how far out,
// where one in a hundred does: who looks at the file finds them. A fiftieth of the span is
// what a stop gives and noise makes.
func outsideText(v []float32, span analyze.Interval, digits int) string {
	margin := 0.02 * span.Width()
	low, high, all := 0, 0, 0
	lowest, highest := span.From, span.To
	for _, y := range v {
		switch x := float64(y); {
		case math.IsNaN(x):
			continue
		case x < span.From-margin:
			low++
			lowest = math.Min(lowest, x)
		case x > span.To+margin:
			high++
			highest = math.Max(highest, x)
		}
		all++
	}
	text := ""
	for _, side := range []struct {
		n    int
		word string
		to   float64
	}{{low, "below", lowest}, {high, "above", highest}} {
		if 100*side.n >= all && side.n > 0 {
			text += fmt.Sprintf(" (%.0f %% of the rows lie %s, to %.*f)", 100*float64(side.n)/float64(all), side.word, digits, side.to)
		}
	}
	return text
}

func noiseText(c *analyze.Capture) string {
	if c.Unit == "V" {
		return fmt.Sprintf("%.1f mV", 1000*c.Noise)
	}
	return fmt.Sprintf("%.2g %s", c.Noise, c.Unit)
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
	s = upperFirst(s)
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s
}
