package plots

import (
	"image/color"
	"math"
	"slices"

	"threewire/analyze"
	"threewire/analyze/stats"
)

// profiles are the rate profiles with something to draw.
func profiles(c *analyze.Capture) []*analyze.Profile {
	var out []*analyze.Profile
	for i := range c.Profiles {
		if len(c.Profiles[i].Points) > 2 {
			out = append(out, &c.Profiles[i])
		}
	}
	return out
}

// rateLimit is the top of a rate axis: half again the typical rate, for a
// jump of a dead spot may read as any speed.
func rateLimit(captures ...*analyze.Capture) float64 {
	top := 0.0
	for _, c := range captures {
		for _, p := range profiles(c) {
			nominal := p.Nominal
			most := 0.0
			for _, q := range p.Points {
				if finite(q.Rate) {
					most = math.Max(most, q.Rate)
				}
			}
			if !(nominal > 0) {
				nominal = most
			}
			top = math.Max(top, math.Min(1.12*most, 2*nominal))
			top = math.Max(top, 1.35*nominal)
		}
	}
	if !(top > 0) {
		return 1
	}
	return top
}

func positionRange(captures ...*analyze.Capture) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range captures {
		lo, hi = math.Min(lo, c.Span.From), math.Max(hi, c.Span.To)
		for _, p := range profiles(c) {
			for _, q := range p.Points {
				lo, hi = math.Min(lo, q.Position), math.Max(hi, q.Position)
			}
		}
	}
	if !(hi > lo) {
		return 0, 1
	}
	pad := 0.04 * (hi - lo)
	return lo - pad, hi + pad
}

// ratePanel draws speed against position for each direction.
func (d *drawing) ratePanel(s *sheet, area box) {
	area = s.heading("Speed at each position", area)
	c := d.fig.Capture
	f := &frame{s: s, area: box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - 0.8*s.size, area.y1}}
	f.x0, f.x1 = positionRange(c)
	f.y0, f.y1 = 0, rateLimit(c)
	ax := axes{x: "feedback (position), " + d.unit(), y: speedLabel(d.unit(), c)}
	f.back()
	if !d.o.Blank {
		for _, m := range d.marks {
			if placed(m.f) && m.f.Kind != analyze.Jam && m.f.Volts.To > f.x0 && m.f.Volts.From < f.x1 {
				s.fill(d.columnOf(f, m), s.th.band)
			}
		}
	}
	f.grid(ax)
	busy := newClutter(f.area)
	for _, p := range profiles(c) {
		ink, dash := s.th.upInk, []float64(nil)
		if p.Direction == analyze.Down {
			ink, dash = s.th.downInk, []float64{5, 2}
		}
		every := max(1, len(p.Points)/int(math.Max(4, f.area.w()/(2.2*s.size))))
		i := -1
		for _, run := range d.measured(p) {
			var line []pt
			for _, q := range run {
				i++
				x, y := f.px(q.Position), f.clampY(q.Rate)
				line = append(line, pt{x, y})
				// How far the slowest pass stays behind the middle one.
				if slow, ok := q.SlowestThrough(); ok && q.Passes > 1 && y-f.clampY(math.Max(0, slow)) > 2 {
					s.line(x, f.clampY(math.Max(0, slow)), x, y, ink, 0.5)
				}
				// A sign cut in half at the edge would mark no speed that can be read.
				if (i%every == every/2 || len(run) == 1) && q.Rate <= f.y1 {
					s.arrow(p.Direction, x, y, 0.3*s.size)
				}
			}
			s.profileLine(line, ink, busy, dash)
		}
		if v := typical(p); v > 0 && v < f.y1 && !d.o.Blank {
			s.line(f.area.x0, f.py(v), f.area.x1, f.py(v), s.th.faint, 0.6, 1.5, 2.5)
		}
	}
	f.front(ax)
	if d.o.Blank {
		return
	}
	d.standMarks(s, f, busy)
	for _, m := range d.marks {
		if !placed(m.f) || m.f.Kind == analyze.Jam || m.f.Volts.To <= f.x0 || m.f.Volts.From >= f.x1 {
			continue
		}
		b := d.columnOf(f, m)
		if d.ownBand(m) {
			s.line(b.x0, b.y0, b.x0, b.y1, s.th.mark, 0.9, 5, 3)
			s.line(b.x1, b.y0, b.x1, b.y1, s.th.mark, 0.9, 5, 3)
		}
		a := pt{b.cx(), f.area.y1 - 0.2*s.size}
		s.number(busy, a, m)
	}
	s.settle()
}

// speedLabel names an axis of speeds: where the drive was turned down in part, they are
// what full drive would give, not what a watch shows.
func speedLabel(unit string, captures ...*analyze.Capture) string {
	for _, c := range captures {
		if c.RatesAtFullDrive {
			return "speed if at full drive, " + unit + "/s"
		}
	}
	return "speed, " + unit + "/s"
}

// typical is the middle one of the speeds drawn. The analysis counts time
// spent slipping or standing as well, which would lie beside the line.
func typical(p *analyze.Profile) float64 {
	var v []float64
	for _, q := range p.Points {
		if finite(q.Rate) {
			v = append(v, q.Rate)
		}
	}
	return stats.Median(v)
}

// passed are the stretches of a profile without a gap: no line may bridge
// places that were not passed. One cell may be missing by chance.
func passed(p *analyze.Profile) [][]analyze.ProfilePoint {
	cell := math.Inf(1)
	for i := 1; i < len(p.Points); i++ {
		cell = math.Min(cell, math.Abs(p.Points[i].Position-p.Points[i-1].Position))
	}
	var runs [][]analyze.ProfilePoint
	last := math.NaN()
	for _, q := range p.Points {
		if !finite(q.Rate) {
			continue
		}
		if n := len(runs) - 1; n >= 0 && math.Abs(q.Position-last) < 2.5*cell {
			runs[n] = append(runs[n], q)
		} else {
			runs = append(runs, []analyze.ProfilePoint{q})
		}
		last = q.Position
	}
	return runs
}

// measured are the stretches of a profile less its dead spots: within them the reading
// tells nothing, and a line would tell a speed.
func (d *drawing) measured(p *analyze.Profile) [][]analyze.ProfilePoint {
	if d.o.Blank { // a gap would tell the answer
		return passed(p)
	}
	var runs [][]analyze.ProfilePoint
	lost := d.lostTo(p)
	for _, run := range passed(p) {
		from := 0
		for i, q := range run {
			dead := slices.ContainsFunc(d.marks, func(m mark) bool { return deadAt(m.f, p.Direction, q.Position) }) || onlyLost(&q, lost)
			between := i > from && slices.ContainsFunc(d.marks, func(m mark) bool {
				return deadAt(m.f, p.Direction, math.Max(math.Min(m.f.Volts.Mid(), q.Position), run[i-1].Position))
			})
			if !dead && !between {
				continue
			}
			if i > from {
				runs = append(runs, run[from:i])
			}
			if from = i; dead {
				from++
			}
		}
		if from < len(run) {
			runs = append(runs, run[from:])
		}
	}
	return runs
}

// lostTo are the levels that the reading went through while the shaft went over a dead
// spot, wider by half a cell: cells that it only touched took their speed from there too.
func (d *drawing) lostTo(p *analyze.Profile) []analyze.Interval {
	cell := math.Inf(1)
	for i := 1; i < len(p.Points); i++ {
		cell = math.Min(cell, math.Abs(p.Points[i].Position-p.Points[i-1].Position))
	}
	var out []analyze.Interval
	for _, m := range d.marks {
		if m.f.Kind != analyze.DeadSpot || m.f.Strength <= 0.5 {
			continue
		}
		for _, o := range m.f.Places[:min(len(m.f.Places), maxPlaces)] {
			low, high := d.rangeWithin(o.Time.From, o.Time.To, false)
			out = append(out, analyze.Interval{From: low - cell/2, To: high + cell/2})
		}
	}
	return out
}

// onlyLost tells whether no pass went through a point undisturbed and a dead spot brought
// the reading there: it rested there while the shaft went over the dead spot.
func onlyLost(q *analyze.ProfilePoint, lost []analyze.Interval) bool {
	_, through := q.SlowestThrough()
	return !through && slices.ContainsFunc(lost, func(v analyze.Interval) bool { return v.Has(q.Position) })
}

// deadAt tells whether a finding is a dead spot, for that direction, over the position.
func deadAt(f *analyze.Finding, dir analyze.Direction, at float64) bool {
	return f.Kind == analyze.DeadSpot && placed(f) && f.Volts.Width() > 0 && (f.Direction == analyze.None || f.Direction == dir) && f.Volts.Has(at)
}

func (s *sheet) profileLine(line []pt, ink color.NRGBA, busy *clutter, dash []float64) {
	s.stroke(line, ink, s.lineWidth(), dash...)
	if busy != nil {
		busy.line(line)
	}
}

// columnOf is the band of positions of a finding, at least 3 pt wide.
func (d *drawing) columnOf(f *frame, m mark) box {
	a, b := f.clampX(m.f.Volts.From), f.clampX(m.f.Volts.To)
	if b-a < 3 {
		a, b = a-1.5, b+1.5
	}
	return box{math.Max(a, f.area.x0), f.area.y0, math.Min(b, f.area.x1), f.area.y1}
}
