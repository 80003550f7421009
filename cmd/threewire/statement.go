package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// statement is what a check says to a person, in the order it is said. The
// text and the page show the same one. Fields are exported for the template.
type statement struct {
	Name    string   // the verdict with its probability
	Summary string   // what it rests on
	Part    string   // what would be replaced; empty where nothing is
	Doubts  []string // on what the verdict hangs, of how the files were read; two at most
	Ask     string   // what the user must know before trusting it; mostly empty
	Chain   string   // which fault led to which; mostly empty
	Repair  string   // the result of a repair; empty without one
	topics
}

// topics are the sections of a text, in the order of reading.
type topics struct{ Sections []*topic }

// topic is one section of a statement.
type topic struct {
	Title string
	Items []point
	Head  []string // of the columns of the points' cells, where they have any
}

// point is one item of a section. A point with a value is a row of a table.
type point struct {
	Text  string
	Notes []string
	Value string
	Share float64 // of a bar, 0 to 1, that repeats the value
	// Cells say the text as a row of a table, for a page on which that reads better.
	Cells []string
}

// section begins a section.
func (s *topics) section(title string) { s.Sections = append(s.Sections, &topic{Title: title}) }

// item adds an item to the last section.
func (s *topics) item(text string) {
	t := s.Sections[len(s.Sections)-1]
	t.Items = append(t.Items, point{Text: text})
}

// note adds a line to the last item.
func (s *topics) note(text string) {
	t := s.Sections[len(s.Sections)-1]
	p := &t.Items[len(t.Items)-1]
	p.Notes = append(p.Notes, text)
}

// row adds a row of a table to the last section.
func (s *topics) row(name, value string, share float64) {
	t := s.Sections[len(s.Sections)-1]
	t.Items = append(t.Items, point{Text: name, Value: value, Share: share})
}

// cells says the last item as a row of a table too, with that head; without cells not.
func (s *topics) cells(head, cells []string) {
	if len(cells) == 0 {
		return
	}
	t := s.Sections[len(s.Sections)-1]
	t.Head, t.Items[len(t.Items)-1].Cells = head, cells
}

// list is a section of sentences; none without any.
func (s *topics) list(title string, sentences []string) {
	if len(sentences) == 0 {
		return
	}
	s.section(title)
	for _, x := range sentences {
		s.item(sentence(x))
	}
}

// headline is the verdict in one line.
func (s *statement) headline() string { return s.Name + " " + s.Summary }

// write prints the statement. Colour only repeats what words say.
func (s *statement) write(w io.Writer, colour bool) {
	strong := emphasis(colour)
	for _, line := range headLines(s.headline()) {
		fmt.Fprintln(w, strong(line))
	}
	if s.Part != "" {
		fmt.Fprintln(w, s.Part)
	}
	for _, d := range s.Doubts {
		wrap(w, "", "", d)
	}
	if s.Ask != "" {
		wrap(w, "", "", s.Ask)
	}
	if s.Chain != "" {
		wrap(w, "", "", s.Chain)
	}
	if s.Repair != "" {
		for _, line := range headLines(s.Repair) {
			fmt.Fprintln(w, strong(line))
		}
	}
	s.topics.write(w, colour)
}

// headLines is a result in one line, as scripts take it, but where a terminal or who
// called asks for a width.
func headLines(s string) []string {
	width, asked := lineWidth()
	if !asked {
		return []string{s}
	}
	var b strings.Builder
	wrapTo(&b, width, "", "", s)
	return strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
}

// wrapAsked writes one line, or lines of the width that is asked for.
func wrapAsked(w io.Writer, first, rest, s string) {
	if _, asked := lineWidth(); asked {
		wrap(w, first, rest, s)
		return
	}
	fmt.Fprintln(w, first+s)
}

// foldAsked writes a text of which no line is wider than what is asked for: one that is goes
// on in lines set in by two more.
func foldAsked(w io.Writer, text string) error {
	width, asked := lineWidth()
	var out strings.Builder
	for line := range strings.Lines(text) {
		if whole := strings.TrimRight(line, "\n"); asked && utf8.RuneCountInString(whole) > width {
			in := whole[:len(whole)-len(strings.TrimLeft(whole, " "))]
			wrapTo(&out, width, in, in+"  ", whole)
			continue
		}
		out.WriteString(line)
	}
	_, err := io.WriteString(w, out.String())
	return err
}

// write prints the sections.
func (s *topics) write(w io.Writer, colour bool) {
	strong := emphasis(colour)
	for _, t := range s.Sections {
		section(w, strong(t.Title))
		for _, p := range t.Items {
			if p.Value != "" {
				fmt.Fprintf(w, "  %-18s %s\n", p.Text, p.Value)
				continue
			}
			item(w, p.Text)
			for _, n := range p.Notes {
				note(w, n)
			}
		}
	}
}

// emphasis makes words strong where colour is wanted.
func emphasis(colour bool) func(string) string {
	return func(s string) string {
		if colour {
			return "\x1b[1m" + s + "\x1b[0m"
		}
		return s
	}
}

// ID is a name for the section's place in a page.
func (t *topic) ID() string { return strings.ReplaceAll(strings.ToLower(t.Title), " ", "-") }

func section(w io.Writer, title string) { fmt.Fprintf(w, "\n%s\n", title) }

func item(w io.Writer, s string) { wrap(w, "  - ", "    ", s) }
func note(w io.Writer, s string) { wrap(w, "      ", "      ", s) }

// wrap breaks a text into lines as wide as they may be, see [lineWidth].
func wrap(w io.Writer, first, rest, s string) {
	width, _ := lineWidth()
	wrapTo(w, width, first, rest, s)
}

// wrapTo breaks a text into lines of at most width characters.
func wrapTo(w io.Writer, width int, first, rest, s string) {
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

// Table tells whether the section is a table of values.
func (t *topic) Table() bool { return len(t.Items) > 0 && t.Items[0].Value != "" }

// Aside tells whether the page shows the section folded: what is looked up, not read.
func (t *topic) Aside() bool {
	return t.Title == absentTitle || t.Title == readTitle
}

const (
	absentTitle = "Looked for and not found"
	readTitle   = "How it was read"
	testTitle   = "Next test"
)

// Percent is the length of the bar.
func (p point) Percent() string { return fmt.Sprintf("%.1f", 100*p.Share) }
