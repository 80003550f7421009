package plots

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"threewire/analyze"
)

// legend writes what the numbers and signs mean, above the given y, and
// returns the y above itself. On a blank picture the same room holds lines to
// write on.
func (d *drawing) legend(s *sheet, in box, bottom float64) float64 {
	cols := 1
	if in.w() > 45*s.size && len(d.marks) > 1 {
		cols = 2
	}
	gap := 1.5 * s.size
	w := (in.w() - gap*float64(cols-1)) / float64(cols)
	indent := s.badgeSize() + 2.4*s.size
	st := s.body()
	row := func(m mark) float64 {
		return math.Max(1, float64(s.lines(d.said(m.f), st, w-indent)))*leading*st.size + 0.45*s.size
	}
	// Fill the first column, then the second, so that reading order is down.
	var heights []float64
	total := 0.0
	for _, m := range d.marks {
		heights = append(heights, row(m))
		total += row(m)
	}
	split := len(d.marks)
	tall := total
	if cols == 2 {
		run := 0.0
		for i, h := range heights {
			run += h
			if run >= total/2 {
				split, tall = i+1, math.Max(run, total-run)
				break
			}
		}
	}
	extra := 0.0
	if d.more > 0 || len(d.marks) == 0 {
		extra = leading * st.size
	}
	top := bottom + tall + extra
	y := top
	for i, m := range d.marks {
		x := in.x0
		if i >= split {
			x += w + gap
		}
		if i == split {
			y = top
		}
		d.entry(s, m, x, y, w, indent, heights[i])
		y -= heights[i]
	}
	switch {
	case d.o.Blank && len(d.marks) == 0:
		s.line(in.x0, bottom+0.2*s.size, in.x1, bottom+0.2*s.size, s.th.faint, 0.6)
	case d.o.Blank:
	case d.more > 0:
		s.text(fmt.Sprintf("and %d more, listed by threewire check", d.more), s.faint(), in.x0, bottom+extra, align{0, 1})
	case len(d.marks) == 0:
		s.text(s.f.shorten(d.nothing(), st.size, st.bold, in.w()), st, in.x0, bottom+extra, align{0, 1})
	}
	return d.signs(s, in, top+0.2*s.size)
}

// entry writes one finding of the legend; on a blank picture lines to write
// on.
func (d *drawing) entry(s *sheet, m mark, x, y, w, indent, h float64) {
	r := s.badgeSize()
	if d.o.Blank {
		s.ring(x+r/2, y-r/2, r/2, s.th.faint, 0.8)
		for k := y - 1.25*s.size; k > y-h; k -= leading * s.size {
			s.line(x+r+0.6*s.size, k, x+w, k, s.th.faint, 0.5)
		}
		return
	}
	s.badge(fmt.Sprint(m.n), box{x, y - r, x + r, y})
	s.symbol(kindSymbol(m.f.Kind), x+r+0.5*s.size, y-r+0.1*s.size, 1.3*s.size, 0.11*s.size)
	s.paragraph(d.said(m.f), s.body(), x+indent, y-0.12*s.size, w-indent)
}

// said is what the legend says of a finding; of one that lies outside of the
// stretch of time drawn, that too.
func (d *drawing) said(f *analyze.Finding) string {
	if w := d.o.Window; w != nil && spotted(f) && !slices.ContainsFunc(f.Places, func(p analyze.Occurrence) bool { return p.Time.Overlaps(*w) }) {
		return plain(f.Title) + " Outside of this stretch."
	}
	return plain(f.Title)
}

// sign is one entry of the lines that explain the signs.
type sign struct {
	text  string
	draw  func(x, y float64) // centred on the point, within two type sizes
	blank bool               // shown on a blank picture too
}

// signSpot is a sign with its place: x from the left, row from the top.
type signSpot struct {
	sign
	x   float64
	row int
}

// signRow is the height of a line of signs, in type sizes.
const signRow = 1.7

// signSpots places the signs in as many rows as they need. A blank picture
// has the rows of its answer.
func (d *drawing) signSpots(s *sheet, width float64) (out []signSpot, rows int) {
	x, row := 0.0, 0
	for _, g := range d.signList(s) {
		need := 2.5*s.size + s.width(g.text, s.small())
		if x > 0 && x+need > width {
			x, row = 0, row+1
		}
		out = append(out, signSpot{g, x, row})
		x += need + 1.7*s.size
	}
	return out, row + 1
}

// signs writes the lines that explain arrowheads, tints and bands, above
// bottom, and returns the y above them.
func (d *drawing) signs(s *sheet, in box, bottom float64) float64 {
	spots, rows := d.signSpots(s, in.w())
	top := bottom + float64(rows)*signRow*s.size
	for _, g := range spots {
		if d.o.Blank && !g.blank {
			continue
		}
		x, y := in.x0+g.x, top-(float64(g.row)+0.5)*signRow*s.size
		g.draw(x+s.size, y)
		s.text(g.text, s.small(), x+2.5*s.size, y, align{0, 0.5})
	}
	return top
}

// signsBelow is signs below top; it returns the y below them.
func (d *drawing) signsBelow(s *sheet, in box, top float64) float64 {
	_, rows := d.signSpots(s, in.w())
	bottom := top - (float64(rows)*signRow+0.3)*s.size
	d.signs(s, in, bottom)
	return bottom
}

// signList is every sign the panels use, in order.
func (d *drawing) signList(s *sheet) []sign {
	tint := func(c int) func(x, y float64) {
		return func(x, y float64) {
			b := box{x - s.size, y - 0.6*s.size, x + s.size, y + 0.6*s.size}
			if c > 0 {
				s.fill(b, s.th.up)
				s.arrow(analyze.Up, x, y, 0.4*s.size)
			} else {
				s.fill(b, s.th.down)
				s.arrow(analyze.Down, x, y, 0.4*s.size)
			}
			s.outline(b, s.th.grid, 0.5)
		}
	}
	line := func(c color.NRGBA, width float64, dash ...float64) func(x, y float64) {
		return func(x, y float64) { s.line(x-s.size, y, x+s.size, y, c, width, dash...) }
	}
	var out []sign
	has := func(p Panel) bool {
		for _, q := range d.panels {
			if q == p {
				return true
			}
		}
		return false
	}
	if has(Time) {
		out = append(out, sign{"feedback", line(s.th.feedback, s.lineWidth()), true})
		if d.reference() != nil {
			out = append(out, sign{"reference", line(s.th.faint, 0.8*s.lineWidth(), referenceDash()...), true})
		}
		if d.supply() != nil {
			out = append(out, sign{"supply", line(s.th.faint, 0.8*s.lineWidth(), supplyDash()...), true})
		}
	}
	moves := [3]bool{}
	for i := range d.fig.Capture.Moves {
		moves[d.fig.Capture.Moves[i].Direction+1] = true
	}
	if has(Time) || has(Rate) || has(Hunt) || has(Close) || has(Sweeps) {
		if moves[analyze.Up+1] {
			out = append(out, sign{text: d.drivenWords(analyze.Up), draw: tint(1)})
		}
		if moves[analyze.Down+1] {
			out = append(out, sign{text: d.drivenWords(analyze.Down), draw: tint(-1)})
		}
		if moves[analyze.None+1] {
			out = append(out, sign{text: "driven", draw: func(x, y float64) { s.arrow(analyze.None, x, y, 0.42*s.size) }})
		}
	}
	if has(Sweeps) && len(d.fig.Capture.Sweeps) > 4 { // three of a kind make a trend
		out = append(out, sign{text: "trend, 95 % range", draw: func(x, y float64) {
			s.polygon([]pt{{x - s.size, y - 0.1*s.size}, {x + s.size, y + 0.1*s.size}, {x + s.size, y + 0.6*s.size}, {x - s.size, y - 0.6*s.size}}, s.th.grid)
			s.line(x-s.size, y-0.3*s.size, x+s.size, y+0.35*s.size, s.th.mark, 1.2, 6, 2)
		}})
	}
	if has(Sweeps) && slices.ContainsFunc(d.fig.Capture.Sweeps, func(w analyze.Sweep) bool { return !whole(&w) }) {
		out = append(out, sign{text: "not from stop to stop", draw: func(x, y float64) { s.ring(x, y, 0.25*s.size, s.th.faint, 0.8) }})
	}
	if has(Rate) {
		out = append(out,
			sign{text: "typical speed", draw: func(x, y float64) { s.line(x-s.size, y, x+s.size, y, s.th.faint, 0.9, 1.5, 2.5) }},
			sign{text: "down to the slowest pass", draw: func(x, y float64) {
				s.line(x-s.size, y+0.4*s.size, x+s.size, y+0.4*s.size, s.th.upInk, s.lineWidth())
				for _, k := range []float64{-0.5, 0, 0.5} {
					s.line(x+k*s.size, y+0.4*s.size, x+k*s.size, y-(0.5+0.4*k)*s.size, s.th.upInk, 0.5)
				}
			}})
	}
	if has(Time) && len(d.extremes()) > 0 {
		out = append(out, sign{text: "mechanical stop", draw: func(x, y float64) { s.stopMark(box{x - s.size, y - 0.25*s.size, x + s.size, y + 0.25*s.size}) }})
	}
	if has(Time) && slices.ContainsFunc(d.marks, func(m mark) bool { return placed(m.f) || spotted(m.f) }) {
		out = append(out, sign{text: "place of a finding", draw: func(x, y float64) {
			b := box{x - s.size, y - 0.5*s.size, x + s.size, y + 0.5*s.size}
			s.fill(b, s.th.band)
			s.outline(b, s.th.mark, 0.9, 3, 1.5)
		}})
	}
	if has(Time) && d.fig.Capture.Pulsed {
		out = append(out, sign{text: "local mean of a pulsed drive", draw: line(s.th.drive, s.lineWidth())})
	}
	return out
}

// lineWidth of a trace in points.
func (s *sheet) lineWidth() float64 { return 0.12 * s.size }

// stopMark draws a mechanical stop: a hatched bar with a solid edge.
func (s *sheet) stopMark(b box) {
	s.hatch(b, s.th.stop, 0.6, 3)
	s.line(b.x0, b.y0, b.x1, b.y0, s.th.stop, 0.8)
	s.line(b.x0, b.y1, b.x1, b.y1, s.th.stop, 0.8)
}

// jammed tells whether a finding has the stop for its own: then it is not one
// of the mechanism's.
func (d *drawing) jammed(st analyze.Stop) bool {
	for i := range d.fig.Capture.Findings {
		if f := &d.fig.Capture.Findings[i]; f.Kind == analyze.Jam && f.Direction == st.Direction && f.Volts.Has(st.Level) {
			return true
		}
	}
	return false
}

// extremes are the outermost stops, low first.
func (d *drawing) extremes() []analyze.Stop {
	var out []analyze.Stop
	for _, st := range d.fig.Capture.Stops {
		if st.Extreme && !d.jammed(st) {
			out = append(out, st)
		}
	}
	if len(out) == 2 && out[0].Level > out[1].Level {
		out[0], out[1] = out[1], out[0]
	}
	// Two ends in one place are not the ends of a travel.
	if len(out) == 2 && out[1].Level-out[0].Level < 0.05*d.fig.Capture.Span.Width() {
		return nil
	}
	return out
}

// drivenWords says what a direction of drive means: up is where the reading rises. It is
// told in full where that is not as the sign of the drive says.
func (d *drawing) drivenWords(dir analyze.Direction) string {
	up := dir == analyze.Up
	switch {
	case d.fig.Capture.Sense < 0 && up:
		return "driven up: drive negative, reading rises"
	case d.fig.Capture.Sense < 0:
		return "driven down: drive positive, reading falls"
	case up:
		return "driven up"
	}
	return "driven down"
}
