package plots

import (
	"cmp"
	"slices"

	"threewire/analyze"
)

// standSpot is a place at which the shaft stood under drive, drawn at no speed.
type standSpot struct {
	x   float64 // on the page
	dir analyze.Direction
}

// standSpots are the places at which a finding has the shaft stand, from left to right.
// Those of one direction that the page cannot hold apart are one.
func (s *sheet) standSpots(f *frame, x *analyze.Finding) []standSpot {
	var all, out []standSpot
	for _, p := range x.Stands() {
		if at := p.Volts.Mid(); f.hasX(at, at) {
			all = append(all, standSpot{f.px(at), p.Direction})
		}
	}
	slices.SortStableFunc(all, func(a, b standSpot) int { return cmp.Compare(a.x, b.x) })
	last := map[analyze.Direction]float64{}
	for _, p := range all {
		if x, drawn := last[p.dir]; drawn && p.x-x < 0.5*s.size {
			continue
		}
		last[p.dir] = p.x
		out = append(out, p)
	}
	return out
}

// standMarks draws where the shaft stood, at no speed, and numbers what is not numbered by
// a band of its own. A stand has no speed to draw a line of: without these a jam would
// leave no sign in a panel of speeds.
func (d *drawing) standMarks(s *sheet, f *frame, busy *clutter) {
	for _, m := range d.marks {
		spots := s.standSpots(f, m.f)
		for _, p := range spots {
			s.standMark(p.dir, p.x, f.area.y0, s.size)
			for _, up := range []float64{0.2, 0.5, 0.8} {
				y := f.area.y0 + up*s.size
				busy.line([]pt{{p.x - 0.8*s.size, y}, {p.x + 0.8*s.size, y}})
			}
		}
		if len(spots) > 0 && (!placed(m.f) || m.f.Kind == analyze.Jam) {
			s.number(busy, pt{spots[len(spots)/2].x, f.area.y0 + s.size}, m)
		}
	}
}

// standMark draws a wall on the point, as high as told, and an arrowhead that was driven
// against it: from the left where the reading was to rise, from the right where it was to
// fall. It differs from every other sign by its shape, whatever its colour.
func (s *sheet) standMark(dir analyze.Direction, x, y, high float64) {
	tip := 0.75 * high
	switch dir {
	case analyze.Up:
		s.polygon([]pt{{x, y + 0.5*high}, {x - tip, y + 0.15*high}, {x - tip, y + 0.85*high}}, s.th.mark)
	case analyze.Down:
		s.polygon([]pt{{x, y + 0.5*high}, {x + tip, y + 0.15*high}, {x + tip, y + 0.85*high}}, s.th.mark)
	}
	s.line(x, y, x, y+high, s.th.mark, 1.8)
}

// showsStands tells whether the panel of speeds has a stand to draw.
func (d *drawing) showsStands() bool {
	return slices.ContainsFunc(d.marks, func(m mark) bool { return len(m.f.Stands()) > 0 })
}
