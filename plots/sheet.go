package plots

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// box is a rectangle on the sheet, in points; the origin is at the lower left.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) w() float64         { return b.x1 - b.x0 }
func (b box) h() float64         { return b.y1 - b.y0 }
func (b box) cx() float64        { return (b.x0 + b.x1) / 2 }
func (b box) cy() float64        { return (b.y0 + b.y1) / 2 }
func (b box) grow(d float64) box { return box{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

func (b box) meets(o box) bool {
	return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1
}

func (b box) holds(o box) bool {
	return b.x0 <= o.x0 && o.x1 <= b.x1 && b.y0 <= o.y0 && o.y1 <= b.y1
}

type pt struct{ x, y float64 }

// label is a piece of text that was put on the sheet.
type label struct {
	text string
	box  box
}

// sheet is a page being drawn. It knows its text sizes and remembers where
// text stands.
type sheet struct {
	c    vg.Canvas
	f    *faces
	th   theme
	mono bool
	size float64 // type size of body text, points
	page box

	labels []label
	taken  []box // places that later labels must keep clear of
	over   []func()
}

// above keeps a drawing for after the leaders, which must not strike through
// it; settle draws what was kept.
func (s *sheet) above(draw func()) { s.over = append(s.over, draw) }

func (s *sheet) settle() {
	for _, draw := range s.over {
		draw()
	}
	s.over = nil
}

// The sizes of type relative to body text.
const (
	titleSize = 1.55
	headSize  = 1.15
	smallSize = 0.92
	leading   = 1.28
)

// Heights of Liberation Sans in ems: capitals with accents reach 0.905 above
// the base line, descenders 0.212 below (its own ascent and descent).
const (
	ascent  = 0.905
	descent = 0.212
)

func (s *sheet) color(c color.Color) { s.c.SetColor(c) }

func (s *sheet) fill(b box, c color.NRGBA) {
	if b.w() <= 0 || b.h() <= 0 {
		return
	}
	s.polygon(b.corners(), c)
}

func (s *sheet) polygon(p []pt, c color.NRGBA) { s.polygons([][]pt{p}, c) }

// polygons fills several polygons as one path, which keeps SVG small.
func (s *sheet) polygons(p [][]pt, c color.NRGBA) {
	if len(p) == 0 {
		return
	}
	s.color(c)
	s.c.Fill(path(p, true))
}

// corners of a box, as a polygon.
func (b box) corners() []pt {
	return []pt{{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}}
}

// stroke draws an open line; dash is in points, nil is solid.
func (s *sheet) stroke(p []pt, c color.NRGBA, width float64, dash ...float64) {
	if len(p) > 1 {
		s.strokes([][]pt{p}, c, width, dash...)
	}
}

// strokes draws several open lines as one path, which keeps SVG small.
func (s *sheet) strokes(p [][]pt, c color.NRGBA, width float64, dash ...float64) {
	if len(p) == 0 {
		return
	}
	s.color(c)
	s.c.SetLineWidth(vg.Length(width))
	s.c.SetLineDash(lengths(dash), 0)
	s.c.Stroke(path(p, false))
}

func (s *sheet) outline(b box, c color.NRGBA, width float64, dash ...float64) {
	s.color(c)
	s.c.SetLineWidth(vg.Length(width))
	s.c.SetLineDash(lengths(dash), 0)
	s.c.Stroke(path([][]pt{b.corners()}, true))
}

func (s *sheet) line(x0, y0, x1, y1 float64, c color.NRGBA, width float64, dash ...float64) {
	s.stroke([]pt{{x0, y0}, {x1, y1}}, c, width, dash...)
}

// disc fills a circle; it is a polygon so that every format draws the same.
func (s *sheet) disc(x, y, r float64, c color.NRGBA) { s.polygon(round(x, y, r), c) }

func (s *sheet) ring(x, y, r float64, c color.NRGBA, width float64) {
	p := round(x, y, r)
	s.stroke(append(p, p[0], p[1]), c, width)
}

func round(x, y, r float64) []pt {
	const n = 24
	p := make([]pt, n)
	for i := range p {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		p[i] = pt{x + r*cos, y + r*sin}
	}
	return p
}

// hatch draws slanting lines over a box: the black-and-white way of shading.
func (s *sheet) hatch(b box, c color.NRGBA, width, gap float64) {
	gap = math.Max(gap, (b.w()+b.h())/400) // wide pages need no more lines than others
	var lines [][]pt
	for d := b.x0 - b.h() + gap/2; d < b.x1; d += gap {
		x0, y0, x1, y1 := d, b.y0, d+b.h(), b.y1
		if x0 < b.x0 {
			y0 += b.x0 - x0
			x0 = b.x0
		}
		if x1 > b.x1 {
			y1 -= x1 - b.x1
			x1 = b.x1
		}
		if x1 > x0 {
			lines = append(lines, []pt{{x0, y0}, {x1, y1}})
		}
	}
	s.strokes(lines, c, width)
}

func path(lines [][]pt, closed bool) vg.Path {
	var out vg.Path
	for _, p := range lines {
		for i, q := range p {
			v := vg.Point{X: vg.Length(hundredth(q.x)), Y: vg.Length(hundredth(q.y))}
			if i == 0 {
				out.Move(v)
			} else {
				out.Line(v)
			}
		}
		if closed {
			out.Close()
		}
	}
	return out
}

// hundredth rounds to 0.01 pt (3.5 um): finer than any printer, and it keeps
// SVG small.
func hundredth(x float64) float64 { return math.Round(x*100) / 100 }

func lengths(x []float64) []vg.Length {
	out := make([]vg.Length, len(x))
	for i, v := range x {
		out[i] = vg.Length(v)
	}
	return out
}

// align says which part of the text the given point is.
type align struct{ x, y float64 } // 0 left or bottom, 0.5 middle, 1 right or top

// style of a piece of text; size 0 is body text.
type style struct {
	size float64
	bold bool
	ink  color.NRGBA
}

func (s *sheet) body() style                      { return style{s.size, false, s.th.ink} }
func (s *sheet) strong() style                    { return style{s.size, true, s.th.ink} }
func (s *sheet) small() style                     { return style{s.size * smallSize, false, s.th.ink} }
func (s *sheet) faint() style                     { return style{s.size * smallSize, false, s.th.faint} }
func (s *sheet) width(t string, st style) float64 { return s.f.measure(t, st.size, st.bold) }

// extent is the box a line of text takes when put at a point.
func (s *sheet) extent(t string, st style, x, y float64, a align) box {
	w, h := s.width(t, st), (ascent+descent)*st.size
	x0, y0 := x-a.x*w, y-a.y*h
	return box{x0, y0, x0 + w, y0 + h}
}

// text puts a line of text.
func (s *sheet) text(t string, st style, x, y float64, a align) box {
	t = s.f.printable(t)
	b := s.extent(t, st, x, y, a)
	if t == "" {
		return b
	}
	s.color(st.ink)
	s.c.FillString(s.f.face(hundredth(st.size), st.bold), vg.Point{X: vg.Length(hundredth(b.x0)), Y: vg.Length(hundredth(b.y0 + descent*st.size))}, t)
	s.labels = append(s.labels, label{t, b})
	s.taken = append(s.taken, b)
	return b
}

// upright puts a line of text turned by a quarter, reading upwards, centred
// on the point.
func (s *sheet) upright(t string, st style, x, y float64) {
	t = s.f.printable(t)
	w, h := s.width(t, st), (ascent+descent)*st.size
	s.color(st.ink)
	s.c.Push()
	s.c.Translate(vg.Point{X: vg.Length(hundredth(x + h/2 - descent*st.size)), Y: vg.Length(hundredth(y - w/2))})
	s.c.Rotate(math.Pi / 2)
	s.c.FillString(s.f.face(hundredth(st.size), st.bold), vg.Point{}, t)
	s.c.Pop()
	b := box{x - h/2, y - w/2, x + h/2, y + w/2}
	s.labels = append(s.labels, label{t, b})
	s.taken = append(s.taken, b)
}

// paragraph puts wrapped text downwards from the top left corner and returns
// the y below it.
func (s *sheet) paragraph(t string, st style, x, top, width float64) float64 {
	for _, l := range s.f.wrap(s.f.printable(t), st.size, st.bold, width) {
		s.text(l, st, x, top, align{0, 1})
		top -= leading * st.size
	}
	return top
}

// lines is how many lines a paragraph takes.
func (s *sheet) lines(t string, st style, width float64) int {
	return len(s.f.wrap(s.f.printable(t), st.size, st.bold, width))
}
