package plots

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"threewire/analyze"
	"threewire/signal"
)

// Paper is the size of a printed report.
type Paper string

// The papers.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// ReportOptions are what a report prints besides the findings.
type ReportOptions struct {
	Shop    string // heads the page; empty prints none
	Address string // a line below the shop; empty prints none
	Job     string // what was checked: order, vehicle, which door; empty prints none
	Date    string // printed as given; empty prints none
	Paper   Paper  // empty means A4
	Style   Style  // Light or Mono, for a page is printed; empty means Light
}

// Report writes a one-page report for the customer as "pdf" or "html". traces
// belong to the report's captures, in the same order; those of the captures
// before a repair and of the healthy side may follow. The HTML is one file
// that needs no other, reads on a phone and prints on one page of A4 or Letter
// paper.
func Report(w io.Writer, format string, rep *analyze.Report, traces []*signal.Trace, o ReportOptions) error {
	if rep == nil || len(rep.Captures) == 0 {
		return fmt.Errorf("the report has no capture: %w", ErrNothing)
	}
	if n := len(rep.Captures); len(traces) != n && len(traces) != n+len(rep.Before)+len(rep.Good) {
		return fmt.Errorf("%d traces for %d captures", len(traces), n)
	}
	if o.Paper == "" {
		o.Paper = A4
	}
	if o.Paper != A4 && o.Paper != Letter {
		return fmt.Errorf("paper %q is unknown: expected a4 or letter (flag --paper)", o.Paper)
	}
	if o.Style == "" {
		o.Style = Light
	}
	if o.Style != Light && o.Style != Mono {
		return fmt.Errorf("style %q is not for a printed report: expected light or mono (flag --style)", o.Style)
	}
	d, main, err := composeReport(rep, traces, o.Style)
	if err != nil {
		return err
	}
	words := wordsOf(rep, main, o)
	switch format {
	case "pdf":
		return reportPDF(w, d, &words, o.Paper)
	case "html":
		return reportHTML(w, d, &words)
	}
	return fmt.Errorf("format %q is unknown: expected pdf or html", format)
}

// composeReport settles the pictures of a report: the capture that shows most,
// and beside it, if there is one, the capture it compares with.
func composeReport(rep *analyze.Report, traces []*signal.Trace, style Style) (d *drawing, main int, err error) {
	main = mainCapture(rep)
	figs := []Figure{{Trace: traces[main], Capture: rep.Captures[main], Report: rep}}
	partner, names := partnerOf(rep, traces, main)
	if partner != nil {
		figs = append(figs, *partner)
	}
	if d, err = compose(figs, Options{Panels: []Panel{Time}, Style: style}); err != nil {
		return nil, 0, err
	}
	d.marks = d.marks[:min(len(d.marks), maxFound)]
	if partner != nil {
		d.beside = &beside{a: &d.figs[0], b: &d.figs[1], first: names[0], second: names[1]}
		if names[1] == names[2] { // the pictured capture comes second
			d.beside.a, d.beside.b = d.beside.b, d.beside.a
		}
	}
	return d, main, nil
}

// beside are two captures laid over each other in a report, with a word for
// each.
type beside struct {
	a, b          *Figure
	first, second string
}

// partnerOf is the capture to lay over the pictured one: that before the
// repair, else that with or without the door, else that of the healthy side;
// nil if there is none. names are the words of the two in the order they are
// shown, then that of the pictured one.
func partnerOf(rep *analyze.Report, traces []*signal.Trace, main int) (partner *Figure, names [3]string) {
	now := rep.Captures[main]
	find := func(list []*analyze.Capture, from int, free bool) *Figure {
		for i, c := range list {
			if c.Free == free && from+i < len(traces) {
				return &Figure{Trace: traces[from+i], Capture: c}
			}
		}
		return nil
	}
	n := len(rep.Captures)
	if f := find(rep.Before, n, now.Free); f != nil {
		return f, [3]string{"before", "after", "after"}
	}
	if f := find(rep.Captures, 0, !now.Free); f != nil {
		if now.Free {
			return f, [3]string{"coupled", "free", "free"}
		}
		return f, [3]string{"coupled", "free", "coupled"}
	}
	if f := find(rep.Good, n+len(rep.Before), now.Free); f != nil {
		return f, [3]string{"this side", "good side", "this side"}
	}
	return nil, names
}

func reportPDF(w io.Writer, d *drawing, words *reportWords, paper Paper) error {
	width, height := mm(210), mm(297)
	if paper == Letter {
		width, height = 612, 792
	}
	// Smaller than 7.5 pt is not for reading.
	size, spare, err := d.fit(words, width, height, []float64{10, 9.5, 9, 8.5, 8, 7.5})
	if err != nil {
		return err
	}
	th := d.o.Style.theme()
	return render(w, "pdf", width, height, 72, th, "Actuator check: "+words.Headline, altReport(words), func(c vg.Canvas) error {
		s := &sheet{c: c, f: d.f, th: th, mono: d.o.Style == Mono, size: size, page: box{0, 0, width, height}}
		return d.report(s, words, math.Min(spare, mostGrown*height))
	})
}
