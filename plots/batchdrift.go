package plots

import (
	"math"
	"slices"
)

// driftChart draws how the ends of several actuators' spans moved.
type driftChart struct {
	s *sheet
	f *frame
	// list holds the sure ones last: they are drawn over the others.
	list []Drift
	sure int // of them
	tags []driftTag
}

// driftTag is a name at the end of its line.
type driftTag struct {
	name string
	y    float64
	sure bool
}

// drifts draws each actuator's end of travel against time, as its change from
// the start of its fitted line.
func (b *Batch) drifts(s *sheet, area box) {
	c := newDriftChart(s, b.Drifts)
	head := "Span drift by actuator (named: more than chance)"
	if c.sure == 0 {
		head = "Span drift by actuator (none is more than chance)"
	}
	area = s.heading(head, area)
	c.f = &frame{s: s, area: box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - 0.8*s.size, area.y1}}
	c.scale()
	ax := axes{x: b.Axis, y: "change from the start of the trend, " + b.Unit}
	c.f.back()
	c.f.grid(ax)
	s.line(c.f.area.x0, c.f.py(0), c.f.area.x1, c.f.py(0), s.th.faint, 0.7)
	c.lines()
	c.f.front(ax)
	c.names()
}

func newDriftChart(s *sheet, drifts []Drift) *driftChart {
	c := &driftChart{s: s, list: slices.Clone(drifts)}
	slices.SortStableFunc(c.list, func(p, q Drift) int {
		switch {
		case p.Sure == q.Sure:
			return 0
		case q.Sure:
			return -1
		}
		return 1
	})
	for k := range c.list {
		if c.list[k].Sure {
			c.sure++
		}
	}
	return c
}

// change is what the i-th capture differs from the start of the fitted line.
func (d *Drift) change(i int) float64 { return d.Y[i] - d.Intercept - d.Slope*d.X[0] }

// scale makes room on both axes for all lines. Chance must not look like a
// drift: the upright axis shows at least what would be one.
func (c *driftChart) scale() {
	f := c.f
	f.x0, f.x1 = math.Inf(1), math.Inf(-1)
	f.y0, f.y1 = 0, 0
	for k := range c.list {
		d := &c.list[k]
		f.y0, f.y1 = math.Min(f.y0, -d.Least), math.Max(f.y1, d.Least)
		for i, x := range d.X {
			y := d.change(i)
			f.x0, f.x1 = math.Min(f.x0, x), math.Max(f.x1, x)
			f.y0, f.y1 = math.Min(f.y0, y), math.Max(f.y1, y)
		}
	}
	if !(f.x1 > f.x0) {
		f.x1 = f.x0 + 1
	}
	pad := 0.08 * (f.y1 - f.y0)
	if !(pad > 0) {
		pad = 0.01
	}
	f.y0, f.y1 = f.y0-pad, f.y1+pad
}

// lines draws all lines and keeps the names worth writing: those of the sure
// ones, or of the first few where none is, as nothing else then takes the
// reader's eye off them.
func (c *driftChart) lines() {
	strong := 0
	for k := range c.list {
		d := &c.list[k]
		bold := d.Sure && strong < maxNamed
		if bold {
			strong++
		}
		end := c.line(d, bold)
		if bold || c.sure == 0 && len(c.tags) < maxNamed {
			c.tags = append(c.tags, driftTag{d.Name, end, bold})
		}
	}
}

// line draws one actuator's captures and tells at what height it ends.
func (c *driftChart) line(d *Drift, bold bool) (end float64) {
	s := c.s
	ink, width := mix(s.th.faint, s.th.panel, 0.5), 0.6
	if bold {
		ink, width = s.th.feedback, 1.4
	}
	var line []pt
	for i, x := range d.X {
		p := pt{c.f.px(x), c.f.py(d.change(i))}
		line = append(line, p)
		if bold {
			s.disc(p.x, p.y, 0.22*s.size, ink)
		}
	}
	s.stroke(line, ink, width)
	return line[len(line)-1].y
}

// names writes the names at their line's end, pushed apart where they would
// touch.
func (c *driftChart) names() {
	slices.SortFunc(c.tags, func(p, q driftTag) int {
		if p.y > q.y {
			return -1
		}
		return 1
	})
	s, area := c.s, c.f.area
	high := 1.25 * s.small().size
	last := area.y1
	for i, t := range c.tags {
		below := float64(len(c.tags)-i) * high
		y := math.Max(math.Min(t.y+1.2*high, last), area.y0+below) // over its line
		st := s.small()
		if !t.sure {
			st = s.faint()
		}
		s.text(s.f.shorten(t.name, st.size, false, area.w()/2), st, area.x1-0.5*s.size, y, align{1, 1})
		last = y - high
	}
}
