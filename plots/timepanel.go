package plots

import (
	"math"
	"slices"

	"threewire/analyze"
)

// timeRange is the stretch of time drawn.
func (d *drawing) timeRange() (from, to float64) {
	from, to = wholeTime(d.fig)
	if w := d.o.Window; w != nil { // an open end is the capture's own
		if !math.IsInf(w.From, -1) {
			from = w.From
		}
		if !math.IsInf(w.To, 1) {
			to = w.To
		}
	}
	return from, to
}

func wholeTime(f *Figure) (from, to float64) {
	t := f.Trace.Time
	from, to = t[0], t[len(t)-1]
	if !(to > from) {
		to = from + 1
	}
	return from, to
}

// feedbackRange is the range of the feedback axis: fixed by the user, else the
// whole reference, so that pictures of different captures compare; readings
// beyond it widen the axis up to a quarter of the reference, or as far as a finding
// reaches: a short to the battery is to be seen.
func feedbackRange(f *Figure, fixed *analyze.Interval) (lo, hi float64) {
	if fixed != nil {
		return fixed.From, fixed.To
	}
	c := f.Capture
	lo, hi = seriesRange(f.Trace.Feedback.Min, f.Trace.Feedback.Max)
	if !(hi >= lo) {
		return 0, 1
	}
	if (c.Unit == "V" || c.Unit == "") && c.Reference > 0 {
		pad, most := 0.04*c.Reference, 1.25*c.Reference
		for i := range c.Findings {
			if x := &c.Findings[i]; x.Kind == analyze.AtRail {
				most = math.Max(most, x.Volts.To)
			}
		}
		return math.Max(-0.25*c.Reference, math.Min(0, lo)) - pad, math.Min(most, math.Max(c.Reference, hi)) + pad
	}
	pad := 0.06*(hi-lo) + 1e-9
	return lo - pad, hi + pad
}

// feedbackAxis is the range of the feedback axis of the time panel: of a stretch of time
// what is read in it, so that what is looked for there fills the panel.
func (d *drawing) feedbackAxis() (lo, hi float64) {
	c := d.fig.Capture
	if d.o.Window != nil && d.o.Volts == nil {
		from, to := d.timeRange()
		lo, hi = d.rangeWithin(from, to, slices.ContainsFunc(c.Findings, func(f analyze.Finding) bool { return f.Kind == analyze.RefLoss }))
		// Noise of a reading at rest must not look like motion.
		least := math.Max(20*c.Noise, 0.01*c.Reference)
		pad := math.Max(0.08*(hi-lo), (least-(hi-lo))/2) + 1e-9
		return lo - pad, hi + pad
	}
	lo, hi = feedbackRange(d.fig, d.o.Volts)
	if r := d.reference(); r != nil && d.o.Volts == nil {
		_, top := seriesRange(r.Min, r.Max)
		hi = math.Max(hi, math.Min(top, 1.25*c.Reference)+0.04*c.Reference)
	}
	return lo, hi
}

func seriesRange(low, high []float32) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range low { // a missing reading is neither lower nor higher
		if x := float64(low[i]); x < lo {
			lo = x
		}
		if x := float64(high[i]); x > hi {
			hi = x
		}
	}
	return lo, hi
}

// driveRange is the range of the drive axis, symmetrical about zero.
func driveRange(f *Figure) (lo, hi float64) {
	if f.Trace.DriveIsPolarity {
		return -1.35, 1.35
	}
	a, b := seriesRange(f.Trace.Drive.Min, f.Trace.Drive.Max)
	m := math.Max(math.Abs(a), math.Abs(b))
	if !finite(m) {
		m = 12
	}
	// Noise of a motor never driven must not look like a drive.
	m = math.Max(m, 2)
	// A single spike must not flatten the drive: half again the level is
	// room enough to see it.
	level := math.Max(math.Abs(f.Capture.Levels.Low), math.Abs(f.Capture.Levels.High))
	if level > 0.1*m {
		m = math.Min(m, 1.5*level)
	}
	return -1.15 * m, 1.15 * m
}

// moveTints shades the moves by direction. Moves too short to tell apart, one
// after the other, share a tint between the two.
func (d *drawing) moveTints(s *sheet, frames []*frame) {
	for _, f := range frames {
		fine := math.Max(1.5, 2*f.area.w()/float64(f.cells())) // points
		var up, down, both [][]pt
		moves := d.fig.Capture.Moves
		for i := 0; i < len(moves); i++ {
			m := &moves[i]
			if !f.hasX(m.Time.From, m.Time.To) {
				continue
			}
			b := box{f.clampX(m.Time.From), f.area.y0, f.clampX(m.Time.To), f.area.y1}
			crowd := b.w() < fine
			for crowd && i+1 < len(moves) {
				next := moves[i+1].Time
				x0, x1 := f.clampX(next.From), f.clampX(next.To)
				if !f.hasX(next.From, next.To) || x0-b.x1 > fine || x1-x0 >= fine {
					break
				}
				b.x1 = x1
				i++
			}
			switch {
			case crowd && b.w() >= fine:
				both = append(both, b.corners())
			case m.Direction == analyze.Up && b.w() > 0:
				up = append(up, b.corners())
			case m.Direction == analyze.Down && b.w() > 0:
				down = append(down, b.corners())
			}
		}
		s.polygons(up, s.th.up)
		s.polygons(down, s.th.down)
		s.polygons(both, mix(s.th.up, s.th.down, 0.5))
	}
}

// moveLane draws an arrowhead over each move, and a pair of them over a crowd
// of moves too short for one each.
func (d *drawing) moveLane(s *sheet, f *frame, h float64) {
	y, r := f.area.y1+h/2, 0.42*s.size
	moves := d.fig.Capture.Moves
	end := math.Inf(-1)
	for i := 0; i < len(moves); i++ {
		m := &moves[i]
		if !f.hasX(m.Time.From, m.Time.To) {
			continue
		}
		a, b := f.clampX(m.Time.From), f.clampX(m.Time.To)
		if b-a >= 2.2*r {
			if x := (a + b) / 2; x-r > end {
				s.arrow(m.Direction, x, y, r)
				end = x + r
			}
			continue
		}
		j := i
		for j+1 < len(moves) && f.hasX(moves[j+1].Time.From, moves[j+1].Time.To) &&
			f.clampX(moves[j+1].Time.To)-f.clampX(moves[j+1].Time.From) < 2.2*r && f.clampX(moves[j+1].Time.From)-b < 3*r {
			j++
			b = f.clampX(moves[j].Time.To)
		}
		switch x := (a + b) / 2; {
		case j > i && b-a >= 2*r && x-2*r > end:
			// A long crowd gets a pair every few type sizes.
			for n, k := max(1, int((b-a)/(4*s.size))), 0; k < n; k++ {
				x = a + (b-a)*(float64(k)+0.5)/float64(n)
				s.bothWays(m.Direction, moves[i+1].Direction, x, y, r)
				end = x + 2*r
			}
		case j == i && x-0.6*r > end:
			// A small arrow would mean nothing else: only where the next is close.
			size := 0.6 * r
			if x-r > end && (i+1 == len(moves) || !f.hasX(moves[i+1].Time.From, moves[i+1].Time.To) || f.clampX(moves[i+1].Time.From) > x+1.2*r) && x+r < f.s.page.x1 {
				size = r
			}
			s.arrow(m.Direction, x, y, size)
			end = x + size
		}
		i = j
	}
}

// stopBands draws the mechanical stops across the panel, named at the right.
func (d *drawing) stopBands(s *sheet, f *frame, stops []analyze.Stop) {
	var wish []float64
	x0 := f.area.x0
	if from, ok := d.stopsFrom(); ok {
		x0 = f.clampX(from)
		for _, st := range d.stopsBefore(from) {
			if y := f.clampY(st.Level); x0 > f.area.x0 && st.Level > f.y0 && st.Level < f.y1 {
				s.stopMark(box{f.area.x0, y - 1.6, x0, y + 1.6})
			}
		}
	}
	for _, st := range stops {
		half := math.Max(1.6, st.Spread/2/(f.y1-f.y0)*f.area.h())
		y := f.clampY(st.Level)
		b := box{x0, math.Max(f.area.y0, y-half), f.area.x1, math.Min(f.area.y1, y+half)}
		if d.heldEarly(st) {
			s.earlyMark(b)
		} else {
			s.stopMark(b)
		}
		wish = append(wish, y)
	}
	if len(stops) == 0 {
		return
	}
	st := s.small()
	at := spread(wish, 2.4*s.size, f.area.y0+1.2*s.size, f.area.y1-1.2*s.size)
	for i, stop := range stops {
		name := "high stop"
		if stop.Direction == analyze.Down {
			name = "low stop"
		}
		if d.heldEarly(stop) {
			name = "early stop"
		}
		x := f.area.x1 + 0.7*s.size
		s.line(f.area.x1, wish[i], x-1, at[i], s.th.stop, 0.7)
		s.text(name, st, x, at[i]+0.05*s.size, align{0, 0})
		s.text(d.value(stop.Level), st, x, at[i]-0.05*s.size, align{0, 1})
	}
}

// noData marks stretches without readings.
func (d *drawing) noData(s *sheet, f *frame) {
	for _, g := range d.fig.Trace.Gaps {
		if f.hasX(g.From, g.To) && f.px(g.To)-f.px(g.From) > 1 { // finer ones do not show
			s.hatch(box{f.clampX(g.From), f.area.y0, f.clampX(g.To), f.area.y1}, s.th.grid, 0.6, 4)
		}
	}
}
