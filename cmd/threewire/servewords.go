package main

import (
	"fmt"
	"regexp"
	"strings"
)

// slots are the files of the form, in its order. flag is what the command
// line calls it.
func slots() []slot {
	return []slot{
		{"capture", "", "Capture of the actuator", "The CSV file that the scope or the logger saved (.csv, .txt, .tsv; packed as .gz too). Several of one actuator, of the last months too, may be chosen together: they go by their clocks, or by their names where a clock is missing.", true},
		{"free", "free", "Off its door", "The same actuator, uncoupled from the door. Several may be chosen together.", true},
		{"before", "before", "Before the repair", "The same actuator before the repair. Those chosen as captures of the actuator are from after it.", true},
		{"good", "good-side", "Good side", "The same kind of actuator on the side that works.", true},
		{"profile", "profile", "Profile", "What a good actuator of this kind does: the text file that the command threewire profile wrote.", false},
		{"prices", "prices", "Prices", "Your own prices and hours, to see what each repair choice costs: a text file, one figure a line.", false},
	}
}

// slot is one field for files of the form; Several tells that it takes more than one.
type slot struct {
	Name, Flag, Label, Hint string
	Several                 bool
}

// flagInText is a flag that a message tells a user of the command line to
// give, with a number, a factor or a placeholder after it.
var flagInText = regexp.MustCompile(`--([a-z]+(?:-[a-z]+)*)(?: (\d+)\b| HZ\b| ([a-z -]+)=(FACTOR|[0-9.e+-]+))?`)

// pageWords says a message for the page: what is a flag on the command line is
// a field there. All other words stay.
func pageWords(s string) string {
	labels := map[string]string{"rate": "Readings per second", "scale": "Factor", "reference-volts": "Sensor supply", "same-actuator": "Same actuator", "whole": "Each file as one"}
	for _, r := range roleNames {
		labels[r.flag] = r.label
	}
	for _, x := range slots() {
		labels[x.Flag] = x.Label
	}
	s = flagInText.ReplaceAllStringFunc(s, func(m string) string {
		g := flagInText.FindStringSubmatch(m)
		label := labels[g[1]]
		switch {
		case label == "":
			return m
		case g[4] == "FACTOR":
			return fmt.Sprintf("“%s” for %s", label, g[3])
		case g[4] != "":
			return fmt.Sprintf("“%s” %s for %s", label, g[4], g[3])
		case g[2] != "":
			return fmt.Sprintf("“%s” at column %s", label, g[2])
		}
		return "“" + label + "”"
	})
	// Two flags in a row, as on a command line.
	s = betweenFields.ReplaceAllString(s, "$1 and “")
	// check is given files one after the other, the page all at once.
	s = strings.ReplaceAll(s, "(as given)", "(by their names)")
	// A number and its unit stay on one line.
	return beforeUnit.ReplaceAllString(s, "$1\u00a0$2$3")
}

var (
	betweenFields = regexp.MustCompile(`(at column \d+) “`)
	beforeUnit    = regexp.MustCompile(`(\d) (%|m?V|m?s|us|min|A|Hz)($|[^\pL])`)
)

// forPage says a statement for the page.
func (s *statement) forPage() *statement {
	out := *s
	for _, x := range []*string{&out.Name, &out.Summary, &out.Part, &out.Ask, &out.Chain, &out.Repair} {
		*x = pageWords(*x)
	}
	out.Doubts = nil
	for _, d := range s.Doubts {
		out.Doubts = append(out.Doubts, pageWords(d))
	}
	out.Sections = nil
	for _, t := range s.Sections {
		u := &topic{Title: t.Title, Head: t.Head}
		for _, x := range t.Items {
			x.Text, x.Value = pageWords(x.Text), pageWords(x.Value)
			notes := x.Notes
			x.Notes = nil
			for _, n := range notes {
				x.Notes = append(x.Notes, pageWords(n))
			}
			u.Items = append(u.Items, x)
		}
		out.Sections = append(out.Sections, u)
	}
	return &out
}

// asTyped reads a number as people type it: a comma is a point.
func asTyped(s string) string { return strings.ReplaceAll(strings.TrimSpace(s), ",", ".") }
