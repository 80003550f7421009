package plots

import (
	"math"
	"slices"
)

// frame is a data area with its two axes.
type frame struct {
	s      *sheet
	area   box
	x0, x1 float64 // data range
	y0, y1 float64
	most   int // cells of a line at most, 0 means maxCells
}

// cells is how many cells the envelope of a line across the frame gets.
func (f *frame) cells() int {
	most := f.most
	if most == 0 {
		most = maxCells
	}
	return min(most, int(f.area.w()/column))
}

// onto turns a line in data units into lines on the sheet, cut where it leaves
// the frame: a trace held at the edge would read as a level. What it leaves
// out is finer than any printer shows.
func (f *frame) onto(p []pt) [][]pt {
	for i := range p {
		p[i] = pt{f.px(p[i].x), f.py(p[i].y)}
	}
	var out [][]pt
	for _, l := range within(p, f.area.y0, f.area.y1) {
		out = append(out, slim(l, 0.06))
	}
	return out
}

// within cuts a line to the heights y0 to y1, with new points on the edges.
func within(p []pt, y0, y1 float64) [][]pt {
	inside := true
	for _, q := range p {
		inside = inside && q.y >= y0 && q.y <= y1
	}
	if inside {
		if len(p) == 0 {
			return nil
		}
		return [][]pt{p}
	}
	var out [][]pt
	var line []pt
	end := func() {
		if len(line) > 1 {
			out = append(out, line)
		}
		line = nil
	}
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		from, to := 0.0, 1.0 // the part of the stretch that lies inside
		if dy := b.y - a.y; dy != 0 {
			k0, k1 := (y0-a.y)/dy, (y1-a.y)/dy
			from, to = math.Max(from, math.Min(k0, k1)), math.Min(to, math.Max(k0, k1))
		} else if a.y < y0 || a.y > y1 {
			from, to = 1, 0
		}
		if from > to {
			end()
			continue
		}
		at := func(k float64) pt { return pt{a.x + k*(b.x-a.x), a.y + k*(b.y-a.y)} }
		if from > 0 || line == nil {
			end()
			line = append(line, at(from))
		}
		line = append(line, at(to))
		if to < 1 {
			end()
		}
	}
	end()
	return out
}

// axes says how a frame's axes are labelled.
type axes struct {
	x, y     string // axis titles with unit
	noX      bool   // no labels below (another frame below shares the axis)
	noGridX  bool
	wholeX   bool // only whole numbers
	yAt      []float64
	ySign    []string
	yDecimal int
}

// margins of a frame: room for the labels of the y axis and the x axis.
func (s *sheet) leftMargin() float64   { return 4.6 * s.size }
func (s *sheet) bottomMargin() float64 { return 2.9 * s.size }

func (f *frame) px(x float64) float64 {
	return f.area.x0 + (x-f.x0)/(f.x1-f.x0)*f.area.w()
}

func (f *frame) py(y float64) float64 {
	return f.area.y0 + (y-f.y0)/(f.y1-f.y0)*f.area.h()
}

// clampX is px held within the area.
func (f *frame) clampX(x float64) float64 {
	return math.Max(f.area.x0, math.Min(f.area.x1, f.px(x)))
}

func (f *frame) clampY(y float64) float64 {
	return math.Max(f.area.y0, math.Min(f.area.y1, f.py(y)))
}

// hasX tells whether any of the stretch is in the window.
func (f *frame) hasX(from, to float64) bool { return from <= f.x1 && to >= f.x0 }

// back paints the data area.
func (f *frame) back() {
	s := f.s
	s.fill(f.area, s.th.panel)
}

// grid draws the grid lines; it goes over tints and under data.
func (f *frame) grid(a axes) {
	s := f.s
	xs, _ := f.xTicks(a)
	for _, x := range xs {
		if !a.noGridX {
			s.line(f.px(x), f.area.y0, f.px(x), f.area.y1, s.th.grid, 0.5)
		}
	}
	ys, _ := f.yTicks(a)
	for _, y := range ys {
		s.line(f.area.x0, f.py(y), f.area.x1, f.py(y), s.th.grid, 0.5)
	}
}

func (f *frame) xTicks(a axes) ([]float64, int) {
	// As many as leave a label's width between labels.
	n := int(f.area.w() / (4 * f.s.size))
	at, dec := ticks(f.x0, f.x1, max(2, n))
	if a.wholeX && dec > 0 {
		at, dec = ticks(f.x0, f.x1, max(1, int(f.x1-f.x0)))
		if dec > 0 {
			return nil, 0
		}
	}
	return at, dec
}

func (f *frame) yTicks(a axes) ([]float64, int) {
	if a.yAt != nil {
		return a.yAt, a.yDecimal
	}
	n := int(f.area.h() / (2.2 * f.s.size))
	return ticks(f.y0, f.y1, max(2, min(8, n)))
}

// front draws the frame and its labels over the data.
func (f *frame) front(a axes) {
	s := f.s
	s.outline(f.area, s.th.faint, 0.7)
	st := s.small()
	began := len(s.labels)
	ys, dec := f.yTicks(a)
	last := math.Inf(-1)
	for i, y := range ys {
		t := tickText(y, dec)
		if i < len(a.ySign) {
			t = a.ySign[i]
		}
		p := f.py(y)
		half := (ascent + descent) * st.size / 2
		if p-half < last {
			continue
		}
		last = p + half
		s.line(f.area.x0-3, p, f.area.x0, p, s.th.faint, 0.7)
		s.text(t, st, f.area.x0-5, p, align{1, 0.5})
	}
	if a.y != "" {
		s.yTitle(a.y, f.area)
	}
	if a.noX {
		return
	}
	xs, dec := f.xTicks(a)
	right := math.Inf(-1)
	// In the corner the two axes want the same spot: the y axis was first.
	yLabels := s.labels[began:]
	for _, x := range xs {
		t := tickText(x, dec)
		p := f.px(x)
		s.line(p, f.area.y0, p, f.area.y0-3, s.th.faint, 0.7)
		b := s.extent(t, st, p, f.area.y0-0.6*s.size, align{0.5, 1})
		if b.x0 < right+0.4*st.size || slices.ContainsFunc(yLabels, func(l label) bool { return l.box.meets(b) }) {
			continue
		}
		s.text(t, st, p, f.area.y0-0.6*s.size, align{0.5, 1})
		right = b.x1
	}
	if a.x != "" {
		s.text(a.x, st, f.area.cx(), f.area.y0-1.75*s.size, align{0.5, 1})
	}
}

// yTitle writes an axis title upwards at the left, shortened to the height it
// has.
func (s *sheet) yTitle(t string, area box) {
	st := s.small()
	// A name that does not fit beside a low panel is written smaller before it is cut.
	room := area.h() + 0.5*s.size
	if w := s.f.measure(t, st.size, false); w > room {
		st.size *= math.Max(0.75, room/w)
	}
	t = s.f.shorten(t, st.size, false, room)
	s.upright(t, st, area.x0-s.leftMargin()+0.75*s.size, area.cy())
}
