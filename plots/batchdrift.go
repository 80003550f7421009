package plots

import (
	"cmp"
	"image/color"
	"math"
	"slices"
)

// driftChart draws how the ends of several actuators' spans moved.
type driftChart struct {
	s *sheet
	f *frame
	// list holds the sure ones last: they are drawn over the others.
	list []Drift
	sure int     // of them
	room float64 // for the names, points
	tags []driftTag
}

// driftTag is a name beside the end of its line.
type driftTag struct {
	lines []string
	x, y  float64 // of the end
	sure  bool
	ink   color.NRGBA
	dash  []float64
}

// driftInk is the look of the k-th line that is named: colours first, and dashes that keep
// lines apart where there is no colour, or it has been used.
func (s *sheet) driftInk(k int) (color.NRGBA, []float64) {
	inks := []color.NRGBA{s.th.feedback, s.th.mark, s.th.downInk, s.th.ink}
	dashes := [][]float64{nil, {6, 2}, {2, 2}, {8, 2, 2, 2}}
	return inks[k%len(inks)], dashes[(k+k/len(inks))%len(dashes)]
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
	// Names stand beside the lines they name, not over them.
	c.room = c.nameRoom(0.36 * area.w())
	c.f = &frame{s: s, area: box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - c.room - 1.6*s.size, area.y1}}
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
		t := driftTag{sure: bold, ink: mix(c.s.th.faint, c.s.th.panel, 0.5)}
		if bold {
			t.ink, t.dash = c.s.driftInk(strong)
			strong++
		}
		end := c.line(d, &t)
		if bold || c.sure == 0 && len(c.tags) < maxNamed {
			t.x, t.y = end.x, end.y
			t.lines = c.nameLines(d.Name)
			c.tags = append(c.tags, t)
		}
	}
}

// nameLines is a name as it stands beside its line: in two lines at most.
func (c *driftChart) nameLines(name string) []string {
	s := c.s
	lines := s.f.wrap(s.f.printable(name), s.small().size, false, c.room)
	if len(lines) > 2 { // a word too wide was cut: its end tells most
		return []string{s.f.shorten(name, s.small().size, false, c.room)}
	}
	return lines
}

// nameRoom is the width that the names to be written need, most at most.
func (c *driftChart) nameRoom(most float64) float64 {
	w := 0.0
	for k := range c.list {
		if c.list[k].Sure || c.sure == 0 {
			w = math.Max(w, c.s.width(c.list[k].Name, c.s.small()))
		}
	}
	return math.Min(w, most)
}

// line draws one actuator's captures and tells where it ends.
func (c *driftChart) line(d *Drift, t *driftTag) (end pt) {
	s := c.s
	width := 0.6
	if t.sure {
		width = 1.4
	}
	var line []pt
	for i, x := range d.X {
		p := pt{c.f.px(x), c.f.py(d.change(i))}
		line = append(line, p)
		if t.sure {
			s.disc(p.x, p.y, 0.22*s.size, t.ink)
		}
	}
	s.stroke(line, t.ink, width, t.dash...)
	return line[len(line)-1]
}

// names writes the names beside their lines' ends, pushed apart where they would touch,
// each with a thread to its end.
func (c *driftChart) names() {
	if len(c.tags) == 0 {
		return
	}
	slices.SortStableFunc(c.tags, func(p, q driftTag) int { return cmp.Compare(p.y, q.y) })
	s, area := c.s, c.f.area
	st := s.small()
	high := leading * st.size
	gap := 0.0
	wish := make([]float64, len(c.tags))
	for i, t := range c.tags {
		wish[i] = t.y
		gap = math.Max(gap, high*float64(len(t.lines)))
	}
	gap = math.Min(gap+0.3*st.size, area.h()/float64(len(c.tags)))
	for i, y := range spread(wish, gap, area.y0+gap/2, area.y1-gap/2) {
		t := &c.tags[i]
		if !t.sure {
			st = s.faint()
		}
		x := area.x1 + 1.4*s.size
		s.line(t.x, t.y, area.x1, t.y, t.ink, 0.4)
		s.line(area.x1, t.y, x-0.2*s.size, y, t.ink, 0.7)
		top := y + high*float64(len(t.lines))/2
		for _, l := range t.lines {
			s.text(l, st, x, top, align{0, 1})
			top -= high
		}
	}
}
