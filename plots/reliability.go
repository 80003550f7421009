package plots

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
)

// Curve is a named line of shares with intervals.
type Curve struct {
	Name   string
	Points []CurvePoint // in the order of X
}

// CurvePoint is a share Y at X with its interval Low..High, all of 0..1 but
// X.
type CurvePoint struct{ X, Y, Low, High float64 }

// ReliabilityPanel is one reliability diagram: of forecasts at X, the share Y
// came true.
type ReliabilityPanel struct {
	Heading string
	Curves  []Curve
}

// DetectionPanel is one set of detection curves over what Axis says; Decades
// makes that axis logarithmic.
type DetectionPanel struct {
	Heading, Axis string
	Decades       bool
	Curves        []Curve
}

// DrawReliability draws reliability diagrams side by side in the format "png",
// "svg" or "pdf". Of the options, those of the page and style count. An error
// that wraps [ErrNothing] says that there is no point to draw.
//
// Source of the form: Murphy A.H., Winkler R.L., Applied Statistics 26 (1977)
// 41.
func DrawReliability(w io.Writer, format, title string, panels []ReliabilityPanel, o Options) error {
	var all []chart
	for _, p := range panels {
		c := chart{heading: p.Heading, curves: p.Curves, ax: axes{x: "probability stated", y: "share right"}, x0: 1, x1: 1, diagonal: true}
		for _, l := range p.Curves {
			for _, q := range l.Points {
				c.x0 = math.Min(c.x0, math.Floor(q.X*10)/10)
			}
		}
		if c.x0 >= 1 {
			c.x0 = 0
		}
		all = append(all, c)
	}
	return drawCharts(w, format, title, all, o)
}

// DrawDetection draws detection curves side by side, as [DrawReliability].
func DrawDetection(w io.Writer, format, title string, panels []DetectionPanel, o Options) error {
	var all []chart
	for _, p := range panels {
		c := chart{heading: p.Heading, curves: p.Curves, ax: axes{x: p.Axis, y: "share named"}, decades: p.Decades}
		c.x0, c.x1 = math.Inf(1), math.Inf(-1)
		for _, l := range p.Curves {
			for _, q := range l.Points {
				x := c.scale(q.X)
				c.x0, c.x1 = math.Min(c.x0, x), math.Max(c.x1, x)
			}
		}
		pad := 0.06 * (c.x1 - c.x0)
		c.x0, c.x1 = c.x0-pad, c.x1+pad
		all = append(all, c)
	}
	return drawCharts(w, format, title, all, o)
}

// chart is one panel of curves over 0..1.
type chart struct {
	heading  string
	curves   []Curve
	ax       axes
	x0, x1   float64 // on the scale
	decades  bool
	diagonal bool
}

func (c *chart) scale(x float64) float64 {
	if c.decades {
		return math.Log10(x)
	}
	return x
}

func drawCharts(w io.Writer, format, title string, all []chart, o Options) error {
	if err := o.Check(); err != nil {
		return err
	}
	points := 0
	for i := range all {
		for _, l := range all[i].curves {
			points += len(l.Points)
		}
		if !(all[i].x1 > all[i].x0) || !finite(all[i].x1-all[i].x0) {
			all[i].x0, all[i].x1 = 0, 1
			all[i].decades = false
		}
	}
	if points == 0 {
		return fmt.Errorf("no verdict with a probability: %w", ErrNothing)
	}
	f, err := loadFaces()
	if err != nil {
		return err
	}
	width, height, dpi, _ := o.page()
	alt := fmt.Sprintf("%s: %d diagrams.", title, len(all))
	return render(w, format, width, height, dpi, o.Style.theme(), title, alt, func(c vg.Canvas) error {
		layCharts(newSheet(c, f, &o), title, all)
		return nil
	})
}

// layCharts puts the title on top, the charts side by side and the names of
// the curves under each chart.
func layCharts(s *sheet, title string, all []chart) {
	s.fill(s.page, s.th.paper)
	in := s.page.grow(-1.6 * s.size)
	st := s.strong()
	st.size *= titleSize
	s.text(s.f.shorten(title, st.size, true, in.w()), st, in.x0, in.y1, align{0, 1})
	in.y1 -= 2.6 * s.size
	gap := 2 * s.size
	wide := (in.w() - gap*float64(len(all)-1)) / float64(len(all))
	for i := range all {
		area := in
		area.x0 = in.x0 + float64(i)*(wide+gap)
		area.x1 = area.x0 + wide
		all[i].draw(s, area)
	}
}

// looks tell curves apart: colour and symbol together, never colour alone.
func looks(th *theme) []struct {
	ink  color.NRGBA
	dash []float64
	mark string
} {
	return []struct {
		ink  color.NRGBA
		dash []float64
		mark string
	}{
		{th.feedback, nil, "disc"},
		{th.mark, []float64{5, 2}, "square"},
		{th.ink, []float64{1.5, 2}, "ring"},
		{th.downInk, []float64{7, 2, 1.5, 2}, "box"},
	}
}

func (c *chart) draw(s *sheet, area box) {
	area = s.heading(c.heading, area)
	row := 1.5 * s.size
	f := &frame{s: s, x0: c.x0, x1: c.x1, y0: 0, y1: 1}
	f.area = box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin() + row*float64(len(c.curves)) + 0.6*s.size, area.x1 - 0.8*s.size, area.y1}
	ax := c.ax
	ax.x = s.f.shorten(ax.x, s.small().size, false, f.area.w()+0.7*s.leftMargin())
	ax.noX = c.decades
	ax.noGridX = c.decades
	f.back()
	f.grid(ax)
	if c.diagonal {
		s.line(f.px(f.x0), f.py(f.x0), f.px(1), f.py(1), s.th.faint, 0.8, 3, 3)
	}
	list := looks(&s.th)
	for i, l := range c.curves {
		k := list[i%len(list)]
		var p []pt
		// A little apart, so that intervals at one place stay readable.
		shift := (float64(i) - float64(len(c.curves)-1)/2) * 2.2
		for _, q := range l.Points {
			at := pt{f.clampX(c.scale(q.X)) + shift, f.py(q.Y)}
			p = append(p, at)
			s.line(at.x, f.py(q.Low), at.x, f.py(q.High), k.ink, 0.8)
		}
		s.stroke(p, k.ink, 1.3, k.dash...)
		for _, at := range p {
			s.dot(k.mark, at, k.ink)
		}
	}
	f.front(ax)
	if c.decades {
		c.decadeTicks(f)
	}
	y := area.y0 + row*float64(len(c.curves))
	for i, l := range c.curves {
		k := list[i%len(list)]
		mid := y - row/2
		s.stroke([]pt{{f.area.x0, mid}, {f.area.x0 + 2.4*s.size, mid}}, k.ink, 1.3, k.dash...)
		s.dot(k.mark, pt{f.area.x0 + 1.2*s.size, mid}, k.ink)
		s.text(s.f.shorten(l.Name, s.small().size, false, area.x1-f.area.x0-3*s.size), s.small(), f.area.x0+3*s.size, mid, align{0, 0.5})
		y -= row
	}
}

// dot draws a curve's symbol.
func (s *sheet) dot(mark string, at pt, ink color.NRGBA) {
	r := 0.28 * s.size
	b := box{at.x - r, at.y - r, at.x + r, at.y + r}
	switch mark {
	case "disc":
		s.disc(at.x, at.y, r, ink)
	case "square":
		s.fill(b, ink)
	case "ring":
		s.disc(at.x, at.y, r, s.th.panel)
		s.ring(at.x, at.y, r, ink, 1)
	default:
		s.fill(b, s.th.panel)
		s.outline(b, ink, 1)
	}
}

// decadeTicks labels a logarithmic axis at 1, 2 and 5 of each decade, as room
// allows.
func (c *chart) decadeTicks(f *frame) {
	s := f.s
	st := s.small()
	right := f.area.x0 - s.leftMargin()
	for e := math.Floor(f.x0); e <= math.Ceil(f.x1); e++ {
		for _, m := range []float64{1, 2, 5} {
			v := m * math.Pow(10, e)
			x := math.Log10(v)
			if x < f.x0 || x > f.x1 {
				continue
			}
			p := f.px(x)
			s.line(p, f.area.y0, p, f.area.y0-3, s.th.faint, 0.7)
			t := fmt.Sprintf("%g", math.Round(v*1e6)/1e6)
			if v >= 1000 {
				t = fmt.Sprintf("%gk", v/1000)
			}
			b := s.extent(t, st, p, f.area.y0-0.6*s.size, align{0.5, 1})
			if b.x0 < right+0.4*st.size || b.x1 > f.area.x1+0.8*s.size {
				continue
			}
			s.text(t, st, p, f.area.y0-0.6*s.size, align{0.5, 1})
			right = b.x1
		}
	}
	s.text(c.shortAxis(f), st, f.area.cx(), f.area.y0-1.75*s.size, align{0.5, 1})
}

func (c *chart) shortAxis(f *frame) string {
	return f.s.f.shorten(c.ax.x, f.s.small().size, false, f.area.w()+0.7*f.s.leftMargin())
}
