package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg/recorder"
)

// report lays out the page, with the pictures higher by grown points in all;
// errTooLong when it runs off it.
func (d *drawing) report(s *sheet, w *reportWords, grown float64) error {
	_, err := s.reportBottom(w, d.reportTop(s, w, grown))
	return err
}

// reportTop draws the upper half, verdict and pictures, and returns the y below it.
func (d *drawing) reportTop(s *sheet, w *reportWords, grown float64) float64 {
	s.fill(s.page, s.th.paper)
	in := s.page.grow(-mm(14))
	y := s.reportHead(w, in)
	y = s.section("What was tested", in.x0, y, in.w())
	for _, t := range w.Tested {
		y = s.paragraph(t, s.small(), in.x0, y, in.w())
	}
	return d.reportPictures(s, in, y-0.9*s.size, grown) - 0.9*s.size
}

// reportBottom writes the words below y and returns the room they leave above the foot
// of the page.
func (s *sheet) reportBottom(w *reportWords, y float64) (spare float64, err error) {
	in := s.page.grow(-mm(14))
	foot := in.y0 + 1.3*s.size
	if spare = s.reportColumns(w, box{in.x0, foot, in.x1, y}) - foot; spare < -0.01 {
		return spare, errTooLong
	}
	s.line(in.x0, foot, in.x1, foot, s.th.grid, 0.7)
	s.text(w.Foot, s.faint(), in.x0, foot-0.2*s.size, align{0, 1})
	return spare, nil
}

// mostGrown is the share of the page by which the pictures may grow into room that the
// words leave.
const mostGrown = 0.14

// reportPictures draws the capture, and the pair laid over each other if
// there is one, and returns the y below. The pictures take 30 to 40 % of the
// page, and grown points more.
func (d *drawing) reportPictures(s *sheet, in box, y, grown float64) float64 {
	if d.beside == nil {
		h := 0.30*s.page.h() + grown
		d.timePanel(s, box{in.x0, y - h, in.x1, y})
		return d.signsBelow(s, in, y-h)
	}
	h := 0.22*s.page.h() + 0.6*grown
	d.timePanel(s, s.heading(d.pictured(), box{in.x0, y - h, in.x1, y}))
	y = d.signsBelow(s, in, y-h) - 0.8*s.size
	h = 0.17*s.page.h() + 0.4*grown
	d.pairPanel(s, box{in.x0, y - h, in.x1, y}, d.beside.a, d.beside.b, d.beside.first, d.beside.second)
	return y - h
}

// pictured names the capture of the main picture and what it is in the pair.
func (d *drawing) pictured() string {
	word := d.beside.first
	if d.beside.b == d.fig {
		word = d.beside.second
	}
	return upper(word) + ": " + d.name(d.fig)
}

// section writes a heading and returns the y below it.
func (s *sheet) section(t string, x, y, width float64) float64 {
	s.text(t, s.strong(), x, y, align{0, 1})
	s.line(x, y-1.25*s.size, x+width, y-1.25*s.size, s.th.grid, 0.7)
	return y - 1.45*s.size
}

func (s *sheet) reportHead(w *reportWords, in box) float64 {
	y := in.y1
	st := style{1.5 * s.size, true, s.th.ink}
	right := in.x1
	if w.Date != "" {
		date := s.f.shorten(s.f.printable(w.Date), s.faint().size, false, in.w()/3)
		right = s.text(date, s.faint(), in.x1, y-0.3*s.size, align{1, 1}).x0 - s.size
	}
	s.text("Actuator check", st, in.x0, y, align{0, 1})
	x := in.x0 + s.width("Actuator check", st) + 1.5*s.size
	owner := s.body()
	for i, t := range w.owner() {
		if i > 0 {
			owner, y = s.faint(), y-1.4*s.size
		}
		s.text(s.f.shorten(s.f.printable(t), owner.size, false, right-x), owner, x, y-0.4*s.size, align{0, 1})
	}
	y -= 2.4 * s.size
	// The verdict in a box, with its sign.
	side := 2.6 * s.size
	hs := style{1.35 * s.size, true, s.th.ink}
	x = in.x0 + side + 2*s.size
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

// reportColumns writes the sections in two columns, the first as long as
// makes both most even, and returns the y below.
func (s *sheet) reportColumns(w *reportWords, in box) float64 {
	gap := 2 * s.size
	width := (in.w() - gap) / 2
	parts := w.parts()
	heights := make([]float64, len(parts))
	total := 0.0
	for i, part := range parts {
		dry := *s
		dry.c = new(recorder.Canvas)
		dry.labels, dry.taken = nil, nil
		heights[i] = -part(&dry, 0, 0, width)
		total += heights[i]
	}
	split, best, run := 1, math.Inf(1), 0.0
	for i, h := range heights {
		run += h
		if long := math.Max(run, total-run); long < best {
			split, best = i+1, long
		}
	}
	bottom := in.y1
	x, y := in.x0, in.y1
	for i, part := range parts {
		if i == split {
			x, y = in.x0+width+gap, in.y1
		}
		y = part(s, x, y, width)
		bottom = math.Min(bottom, y)
	}
	return bottom
}

// part writes one section from its top left corner and returns the y below.
type part func(s *sheet, x, y, width float64) float64

// parts are the sections in the order they are read.
func (w *reportWords) parts() []part {
	out := []part{w.found, w.sure, w.step}
	for _, l := range []struct {
		title string
		items shortened
	}{{"Looked for and not found", w.RulesOut}, {"What it cannot tell", w.Unknown}, {"Cautions", w.Cautions}} {
		if len(l.items.Items) > 0 {
			out = append(out, func(s *sheet, x, y, width float64) float64 {
				return s.list(l.items, x, s.section(l.title, x, y, width), width) - 0.6*s.size
			})
		}
	}
	return out
}

func (w *reportWords) found(s *sheet, x, y, width float64) float64 {
	y = s.section("What was found", x, y, width)
	if len(w.Found) == 0 {
		y = s.paragraph(w.Nothing, s.small(), x, y, width)
	}
	r := s.badgeSize()
	for i, t := range w.Found {
		s.badge(fmt.Sprint(i+1), box{x, y - r, x + r, y})
		y = min(s.paragraph(t, s.small(), x+r+0.6*s.size, y-0.15*s.size, width-r-0.6*s.size), y-r) - 0.35*s.size
	}
	if w.More != "" {
		y = s.paragraph(w.More, s.faint(), x, y, width)
	}
	for _, t := range w.Compared {
		y = s.paragraph(t, s.small(), x, y-0.2*s.size, width)
	}
	if w.Why != "" {
		y = s.paragraph(w.Why, s.small(), x, y-0.2*s.size, width)
	}
	return y - 0.6*s.size
}

func (w *reportWords) sure(s *sheet, x, y, width float64) float64 {
	y = s.section("How sure", x, y, width)
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
	return y - 0.6*s.size
}

func (w *reportWords) step(s *sheet, x, y, width float64) float64 {
	y = s.section("Recommended next step", x, y, width)
	y = s.paragraph(w.Step, s.strongSmall(), x, y, width) - 0.2*s.size
	if w.Test != "" {
		y = s.paragraph(w.Test, s.small(), x, y, width)
		y = s.list(w.Procedure, x, y, width)
		if len(w.Shows.Items) > 0 {
			y = s.paragraph(showsTitle, s.small(), x, y, width)
			y = s.list(w.Shows, x, y, width)
		}
	}
	if w.Else != "" {
		y = s.paragraph(w.Else, s.small(), x, y-0.2*s.size, width)
	}
	return y - 0.6*s.size
}

// showsTitle heads the outcomes of the test.
const showsTitle = "What it would mean:"

// list writes items with bullets, and how many were left out.
func (s *sheet) list(l shortened, x, y, width float64) float64 {
	for _, t := range l.Items {
		s.disc(x+0.35*s.size, y-0.55*s.size, 0.16*s.size, s.th.ink)
		y = s.paragraph(t, s.small(), x+s.size, y, width-s.size)
	}
	if t := l.More(); t != "" {
		y = s.paragraph(t, s.faint(), x+s.size, y, width-s.size)
	}
	return y
}

func (s *sheet) strongSmall() style { return style{s.size * smallSize, true, s.th.ink} }
