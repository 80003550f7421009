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
	Shop  string // heads the page; empty prints none
	Date  string // printed as given; empty prints none
	Paper Paper  // of a PDF; empty means A4
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
	main := mainCapture(rep)
	d, err := compose([]Figure{{Trace: traces[main], Capture: rep.Captures[main], Report: rep}}, Options{Panels: []Panel{Time}})
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

// errTooLong tells that the words do not fit the page at any size.
var errTooLong = errors.New("the report does not fit one page")

func reportPDF(w io.Writer, d *drawing, words *reportWords, paper Paper) error {
	width, height := mm(210), mm(297)
	if paper == Letter {
		width, height = 612, 792
	}
	th := Light.theme()
	// Down to 7 pt; smaller is not for reading. The last try draws anyway:
	// lists are bounded, so only absurd names could overflow.
	size := 0.0
	for _, try := range []float64{10, 9.5, 9, 8.5, 8, 7.5, 7} {
		s := &sheet{c: new(recorder.Canvas), f: d.f, th: th, size: try, page: box{0, 0, width, height}}
		if err := d.report(s, words); err == nil {
			size = try
			break
		}
	}
	if size == 0 {
		return errTooLong
	}
	return render(w, "pdf", width, height, 72, th, "Actuator check: "+words.Headline, altReport(words), func(c vg.Canvas) error {
		s := &sheet{c: c, f: d.f, th: th, size: size, page: box{0, 0, width, height}}
		return d.report(s, words)
	})
}

// report lays out the page; errTooLong when it runs off it.
func (d *drawing) report(s *sheet, w *reportWords) error {
	s.fill(s.page, s.th.paper)
	in := s.page.grow(-mm(14))
	gap := 0.9 * s.size
	y := d.reportHead(s, w, in)
	y = s.section("What was tested", in.x0, y, in.w())
	for _, t := range w.Tested {
		y = s.paragraph(t, s.small(), in.x0, y, in.w())
	}
	y -= gap
	// The picture takes 30 % of the page.
	h := 0.30 * s.page.h()
	d.timePanel(s, box{in.x0, y - h, in.x1, y})
	y = d.signs(s, in, y-h-2*s.size) - 1.7*s.size - gap

	half := (in.w() - 2*s.size) / 2
	left := d.reportLeft(s, w, in.x0, y, half)
	right := s.reportRight(w, in.x0+half+2*s.size, y, half)
	bottom := min(left, right)
	foot := in.y0 + 1.3*s.size
	if bottom < foot {
		return errTooLong
	}
	s.line(in.x0, foot, in.x1, foot, s.th.grid, 0.7)
	s.text(w.Foot, s.faint(), in.x0, foot-0.2*s.size, align{0, 1})
	return nil
}

// section writes a heading and returns the y below it.
func (s *sheet) section(t string, x, y, width float64) float64 {
	s.text(t, s.strong(), x, y, align{0, 1})
	s.line(x, y-1.25*s.size, x+width, y-1.25*s.size, s.th.grid, 0.7)
	return y - 1.45*s.size
}

func (d *drawing) reportHead(s *sheet, w *reportWords, in box) float64 {
	y := in.y1
	st := style{1.5 * s.size, true, s.th.ink}
	right := in.x1
	if w.Date != "" {
		right = s.text(w.Date, s.faint(), in.x1, y-0.3*s.size, align{1, 1}).x0 - s.size
	}
	s.text("Actuator check", st, in.x0, y, align{0, 1})
	if w.Shop != "" {
		x := in.x0 + s.width("Actuator check", st) + 1.5*s.size
		s.text(s.f.shorten(s.f.printable(w.Shop), s.size, false, right-x), s.body(), x, y-0.4*s.size, align{0, 1})
	}
	y -= 2.4 * s.size
	// The verdict in a box, with its sign.
	side := 2.6 * s.size
	hs := style{1.35 * s.size, true, s.th.ink}
	x := in.x0 + side + 2*s.size
	width := in.x1 - x - s.size
	lines := s.f.wrap(w.Headline, hs.size, true, width)
	n := s.lines(w.Meaning, s.body(), width)
	h := float64(len(lines))*leading*hs.size + float64(n)*leading*s.size + 1.4*s.size
	b := box{in.x0, y - h, in.x1, y}
	s.fill(b, mix(s.th.ink, s.th.paper, 0.05))
	s.outline(b, s.th.ink, 1)
	s.symbol(faultSymbol(w.Fault), in.x0+s.size, b.cy()-side/2, side, 0.16*s.size)
	y = s.paragraph(w.Headline, hs, x, y-0.7*s.size, width)
	s.paragraph(w.Meaning, s.body(), x, y, width)
	return b.y0 - 0.9*s.size
}

func (d *drawing) reportLeft(s *sheet, w *reportWords, x, y, width float64) float64 {
	y = s.section("What was found", x, y, width)
	if len(w.Found) == 0 {
		y = s.paragraph("Nothing unusual in what was logged.", s.small(), x, y, width)
	}
	r := s.badgeSize()
	for i, t := range w.Found {
		s.badge(fmt.Sprint(i+1), box{x, y - r, x + r, y})
		y = min(s.paragraph(t, s.small(), x+r+0.6*s.size, y-0.15*s.size, width-r-0.6*s.size), y-r) - 0.35*s.size
	}
	if w.More != "" {
		y = s.paragraph(w.More, s.faint(), x, y, width)
	}
	y = s.section("How sure", x, y-0.6*s.size, width)
	y = s.paragraph(w.SureText, s.small(), x, y, width) - 0.2*s.size
	name, number := 0.42*width, 4.6*s.size
	for _, p := range w.Sure {
		s.text(p.Name, s.small(), x, y, align{0, 1})
		bar := box{x + name, y - 0.95*s.size, x + width - number, y - 0.15*s.size}
		s.outline(bar, s.th.faint, 0.6)
		s.fill(box{bar.x0, bar.y0, bar.x0 + bar.w()*p.Percent/100, bar.y1}, s.th.feedback)
		s.text(p.Text, s.small(), x+width, y, align{1, 1})
		y -= leading * s.size
	}
	return y
}

func (s *sheet) reportRight(w *reportWords, x, y, width float64) float64 {
	list := func(items []string, y float64) float64 {
		for _, t := range items {
			s.disc(x+0.35*s.size, y-0.55*s.size, 0.16*s.size, s.th.ink)
			y = s.paragraph(t, s.small(), x+s.size, y, width-s.size)
		}
		return y - 0.6*s.size
	}
	y = s.section("Recommended next step", x, y, width)
	y = s.paragraph(w.Step, s.strongSmall(), x, y, width) - 0.2*s.size
	if w.Test != "" {
		y = s.paragraph("To be surer: "+w.Test, s.small(), x, y, width)
		y = list(w.Procedure, y)
	} else {
		y -= 0.4 * s.size
	}
	if len(w.RulesOut) > 0 {
		y = list(w.RulesOut, s.section("What this rules out", x, y, width))
	}
	if len(w.Unknown) > 0 {
		y = list(w.Unknown, s.section("What it cannot tell", x, y, width))
	}
	return list(w.Cautions, s.section("Cautions", x, y, width))
}

func (s *sheet) strongSmall() style { return style{s.size * smallSize, true, s.th.ink} }
