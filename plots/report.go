package plots

import (
	"errors"
	"fmt"
	"io"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

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
	Date    string // printed as given; empty prints none
	Paper   Paper  // empty means A4
	Style   Style  // Light or Mono, for a page is printed; empty means Light
}

// ReportFormats lists the formats of [Report].
func ReportFormats() []string { return []string{"pdf", "html"} }

// Report writes a one-page report for the customer as "pdf" or "html". traces
// belong to the report's captures, in the same order. The HTML is one file
// that needs no other, reads on a phone and prints on one page of A4 or Letter
// paper.
func Report(w io.Writer, format string, rep *analyze.Report, traces []*signal.Trace, o ReportOptions) error {
	if rep == nil || len(rep.Captures) == 0 {
		return fmt.Errorf("the report has no capture: %w", ErrNothing)
	}
	if len(traces) != len(rep.Captures) {
		return fmt.Errorf("%d traces for %d captures", len(traces), len(rep.Captures))
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
	main := mainCapture(rep)
	d, err := compose(reportFigures(rep, traces, main), Options{Panels: []Panel{Time}, Style: o.Style})
	if err != nil {
		return err
	}
	if len(d.marks) > maxFound {
		d.marks = d.marks[:maxFound]
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

// reportFigures are the pictured capture and, if there is one, its partner
// with or without the door.
func reportFigures(rep *analyze.Report, traces []*signal.Trace, main int) []Figure {
	figs := []Figure{{Trace: traces[main], Capture: rep.Captures[main], Report: rep}}
	for i, c := range rep.Captures {
		if c.Free != rep.Captures[main].Free {
			return append(figs, Figure{Trace: traces[i], Capture: c, Report: rep})
		}
	}
	return figs
}

// paired tells whether a coupled and a free capture can be compared.
func (d *drawing) paired() bool {
	a, b := d.pair()
	return a != nil && b != nil
}

// errTooLong tells that the words do not fit the page at any size.
var errTooLong = errors.New("the report does not fit one page")

// fit is the largest of the type sizes at which the words fit a page. Where
// none is small enough, the lists get shorter.
func (d *drawing) fit(w *reportWords, width, height float64, sizes []float64) (float64, error) {
	for {
		for _, size := range sizes {
			s := &sheet{c: new(recorder.Canvas), f: d.f, th: d.o.Style.theme(), size: size, page: box{0, 0, width, height}}
			if d.report(s, w) == nil {
				return size, nil
			}
		}
		if !w.shorten() {
			return 0, errTooLong
		}
	}
}

func reportPDF(w io.Writer, d *drawing, words *reportWords, paper Paper) error {
	width, height := mm(210), mm(297)
	if paper == Letter {
		width, height = 612, 792
	}
	// Smaller than 7.5 pt is not for reading.
	size, err := d.fit(words, width, height, []float64{10, 9.5, 9, 8.5, 8, 7.5})
	if err != nil {
		return err
	}
	th := d.o.Style.theme()
	return render(w, "pdf", width, height, 72, th, "Actuator check: "+words.Headline, altReport(words), func(c vg.Canvas) error {
		s := &sheet{c: c, f: d.f, th: th, mono: d.o.Style == Mono, size: size, page: box{0, 0, width, height}}
		return d.report(s, words)
	})
}
