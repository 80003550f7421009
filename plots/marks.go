package plots

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"threewire/analyze"
	"threewire/signal"
)

// placed tells which findings show as bands of positions across the panel.
func placed(f *analyze.Finding) bool {
	switch f.Kind {
	case analyze.DeadSpot, analyze.NoisyTrack, analyze.SlowZone, analyze.EndLoss, analyze.Jam:
		return f.Tie != analyze.TiedToTime && f.Volts.From <= f.Volts.To
	}
	return false
}

// spotted tells which findings show at single places; others belong to a
// stretch of time or to the capture.
func spotted(f *analyze.Finding) bool {
	switch f.Kind {
	case analyze.Hunting, analyze.SpanDrift, analyze.TravelChange, analyze.Heating, analyze.WeakDrive:
		return false
	}
	return len(f.Places) > 0
}

// maxPlaces is as many outlined places as a panel bears.
const maxPlaces = 60

// spots are the boxes of a finding in the panel: where and when it shows.
func spots(s *sheet, f *frame, x *analyze.Finding) []box {
	if !spotted(x) {
		return nil
	}
	places := inOrder(x.Places)
	var raw []box
	for _, p := range places {
		if !f.hasX(p.Time.From, p.Time.To) {
			continue
		}
		lo, hi := math.Min(p.Volts.From, p.Volts.To), math.Max(p.Volts.From, p.Volts.To)
		if lo > f.y1 || hi < f.y0 {
			continue
		}
		raw = append(raw, box{f.clampX(p.Time.From), f.clampY(lo), f.clampX(p.Time.To), f.clampY(hi)})
	}
	var out []box
	for i, b := range raw {
		b.x0, b.x1 = s.widened(raw, i)
		if grow := (s.size - b.h()) / 2; grow > 0 {
			b.y0, b.y1 = b.y0-grow, b.y1+grow
		}
		b = box{math.Max(b.x0, f.area.x0), math.Max(b.y0, f.area.y0), math.Min(b.x1, f.area.x1), math.Min(b.y1, f.area.y1)}
		if n := len(out); n > 0 && joins(out[n-1], b) {
			out[n-1].x1 = math.Max(out[n-1].x1, b.x1)
			out[n-1].y0, out[n-1].y1 = math.Min(out[n-1].y0, b.y0), math.Max(out[n-1].y1, b.y1)
			continue
		}
		out = append(out, b)
		if len(out) == maxPlaces {
			break
		}
	}
	return out
}

// inOrder are places by their times.
func inOrder(places []analyze.Occurrence) []analyze.Occurrence {
	list := slices.Clone(places)
	slices.SortStableFunc(list, func(a, b analyze.Occurrence) int { return cmp.Compare(a.Time.From, b.Time.From) })
	return list
}

// widened are the sides of box i of some in order. A spot must be seen: at least a letter
// high and half a letter wide; but one that has a neighbour keeps clear of it as long as a
// third of a letter is left, so that the boxes can be counted.
func (s *sheet) widened(raw []box, i int) (x0, x1 float64) {
	const clear = 2 // points from box to box, see joins
	b := raw[i]
	grow := (0.7*s.size - b.w()) / 2
	if grow <= 0 {
		return b.x0, b.x1
	}
	left, right := grow, grow
	if i > 0 {
		left = math.Min(left, (b.x0-raw[i-1].x1-clear)/2)
	}
	if i+1 < len(raw) {
		right = math.Min(right, (raw[i+1].x0-b.x1-clear)/2)
	}
	if left < 0 || right < 0 || b.w()+left+right < 0.33*s.size {
		return b.x0 - grow, b.x1 + grow
	}
	return b.x0 - left, b.x1 + right
}

// joins tells whether b goes on where a ends, at the same height: outlines of
// their own would hide the trace.
func joins(a, b box) bool {
	level := math.Min(a.y1, b.y1) - math.Max(a.y0, b.y0)
	return b.x0 <= a.x1+1.5 && b.x1 >= a.x0 && level >= 0.8*math.Max(a.h(), b.h())
}

// bands paints the places of the findings, under the data.
func (d *drawing) bands(s *sheet, f *frame) {
	for _, m := range d.marks {
		for _, b := range spots(s, f, m.f) {
			s.fill(b, s.th.band)
		}
	}
}

// outlines draws borders of the findings, over the data.
func (d *drawing) outlines(s *sheet, f *frame) {
	lines := 0
	for _, m := range d.marks {
		// More than two pairs of lines hide the trace they run across.
		if d.ownBand(m) && m.f.Kind != analyze.Jam && lines < 2 {
			lines++
			lo, hi := f.py(m.f.Volts.From), f.py(m.f.Volts.To)
			if hi-lo < 2 {
				lo, hi = lo-1, hi+1
			}
			for _, y := range []float64{lo, hi} {
				if y > f.area.y0 && y < f.area.y1 {
					s.line(f.area.x0, y, f.area.x1, y, s.th.mark, 0.9, 5, 3)
				}
			}
		}
		for _, b := range spots(s, f, m.f) {
			s.outline(b, s.th.mark, 0.9, 3, 1.5)
		}
	}
}

// ownBand tells whether a finding has a band of positions of its own: one that is nearly
// that of a finding before it would only double its lines (four fifths
// in common, as for outlines that join).
func (d *drawing) ownBand(m mark) bool {
	if !placed(m.f) {
		return false
	}
	for _, o := range d.marks {
		if o.n >= m.n {
			break
		}
		if d.sameBand(o, m, 0.8) {
			return false
		}
	}
	return true
}

// sameBand tells whether two findings share at least so much of the band that they cover
// together.
func (d *drawing) sameBand(a, b mark, share float64) bool {
	if !placed(a.f) || !placed(b.f) || a.f.Kind == analyze.Jam || b.f.Kind == analyze.Jam {
		return false
	}
	p, q := a.f.Volts, b.f.Volts
	common := math.Min(p.To, q.To) - math.Max(p.From, q.From)
	all := math.Max(p.To, q.To) - math.Min(p.From, q.From)
	return common > 0 && common >= share*all
}

// mostNumbered is at how many places a finding without lines across the panel is numbered:
// more crowd it, and its boxes are alike by then.
const mostNumbered = 4

// further are the other places that a stall's number stands at: no lines across the panel
// lead from one to the next.
func further(s *sheet, f *frame, m mark, but pt) []pt {
	b := spots(s, f, m.f)
	if m.f.Kind != analyze.Jam || len(b) > mostNumbered {
		return nil
	}
	var out []pt
	for _, p := range b {
		if a := (pt{p.cx(), p.y1}); a != but {
			out = append(out, a)
		}
	}
	return out
}

// anchor is the point of a finding that its number points at, and whether it
// is in the window. Findings at one place are numbered at one pass.
func (d *drawing) anchor(s *sheet, f *frame, m mark) (pt, bool) {
	x := m.f
	if b := spots(s, f, x); len(b) > 0 {
		best := slices.MaxFunc(b, func(p, q box) int { return cmp.Compare(p.w()*p.h(), q.w()*q.h()) })
		for _, o := range d.marks {
			if o.n >= m.n {
				break
			}
			if !d.sameBand(o, m, 0.2) {
				continue
			}
			if a, ok := d.anchor(s, f, o); ok {
				best = slices.MinFunc(b, func(p, q box) int { return cmp.Compare(math.Abs(p.cx()-a.x), math.Abs(q.cx()-a.x)) })
				break
			}
		}
		return pt{best.cx(), best.y1}, true
	}
	if spotted(x) { // all of its places lie outside the window
		return pt{}, false
	}
	if p, ok := d.sweepAnchor(f, x); ok {
		return p, true
	}
	if x.Kind == analyze.RefLoss {
		return d.referenceAnchor(f)
	}
	from, to := math.Max(x.Time.From, f.x0), math.Min(x.Time.To, f.x1)
	if x.Time.Width() <= 0 {
		from, to = f.x0, f.x1
	}
	if from > to {
		return pt{}, false
	}
	at := (from + to) / 2
	switch x.Kind {
	case analyze.StickSlip, analyze.GearTurn, analyze.WeakDrive, analyze.HeavyDrag:
		at = d.movingAt(from, to, at)
	}
	if v, ok := d.reading(at); ok {
		return pt{f.px(at), f.clampY(v)}, v >= f.y0 && v <= f.y1
	}
	return pt{f.px(at), f.area.cy()}, true
}

// movingAt is the middle of the move that goes farthest from one time to another, for
// what belongs to the motion does not show at rest; where none moves, the time given.
func (d *drawing) movingAt(from, to, at float64) float64 {
	far := 0.0
	for i := range d.fig.Capture.Moves {
		m := &d.fig.Capture.Moves[i]
		a, b := math.Max(from, m.Time.From+m.Delay), math.Min(to, m.Time.To-m.Stalled)
		if way := math.Abs(m.End-m.Start) * math.Min(1, (b-a)/m.Duration()); b > a && way > far {
			at, far = (a+b)/2, way
		}
	}
	return at
}

// referenceAnchor is where the logged reference strays farthest from its
// median within the window.
func (d *drawing) referenceAnchor(f *frame) (pt, bool) {
	r := d.reference()
	if r == nil {
		return pt{f.area.cx(), f.area.cy()}, true
	}
	a, far := pt{}, -1.0
	for i, t := range d.fig.Trace.Time {
		if t < f.x0 || t > f.x1 {
			continue
		}
		for _, v := range []float64{float64(r.Min[i]), float64(r.Max[i])} {
			if dev := math.Abs(v - d.fig.Capture.Reference); dev > far {
				a, far = pt{f.px(t), f.clampY(v)}, dev
			}
		}
	}
	return a, far >= 0
}

// sweepAnchor points a change from sweep to sweep at the last sweep in the
// window: at its end when the ends move, at its middle when the speed does.
func (d *drawing) sweepAnchor(f *frame, x *analyze.Finding) (pt, bool) {
	part := 0.0
	switch x.Kind {
	case analyze.SpanDrift, analyze.TravelChange:
		part = 1
	case analyze.Heating, analyze.WeakDrive:
		part = 0.5
	default:
		return pt{}, false
	}
	sw := d.fig.Capture.Sweeps
	for i := len(sw) - 1; i >= 0; i-- {
		w := &sw[i]
		at := w.Time.From + part*w.Time.Width()
		// "high end" and "low end" are forms of a drift.
		wrong := strings.HasPrefix(x.Form, "high") && w.Direction == analyze.Down || strings.HasPrefix(x.Form, "low") && w.Direction == analyze.Up
		if part == 1 && (wrong || !w.Stalled) || at < f.x0 || at > f.x1 {
			continue
		}
		if v, ok := d.reading(at); ok {
			return pt{f.px(at), f.clampY(v)}, true
		}
	}
	return pt{}, false
}

// callout draws a bracket over a stretch of hunting, a number with a leader
// for everything else.
func (d *drawing) callout(s *sheet, f *frame, busy *clutter, m mark) {
	if m.f.Kind == analyze.Hunting && f.hasX(m.f.Time.From, m.f.Time.To) {
		d.bracket(s, f, busy, m)
		return
	}
	if a, ok := d.anchor(s, f, m); ok {
		s.number(busy, a, m)
		for _, a := range further(s, f, m, a) {
			s.number(busy, a, m)
		}
	}
}

// number puts a mark's number near its anchor.
func (s *sheet) number(busy *clutter, a pt, m mark) {
	if b, ok := s.place(busy, a, s.badgeSize(), s.badgeSize()); ok {
		s.leader(b, a)
		busy.line([]pt{b.edge(a), a})
		s.above(func() { s.badge(fmt.Sprint(m.n), b) })
	}
}

// aboutDrive tells which findings show in the drive, not in the feedback.
func aboutDrive(f *analyze.Finding) bool {
	switch f.Kind {
	case analyze.NoDrive, analyze.HalfDrive, analyze.SupplySag:
		return true
	}
	return false
}

// aboutCurrent tells which findings show in the motor current, where it was logged.
func aboutCurrent(f *analyze.Finding) bool { return f.Kind == analyze.HeavyDrag }

// driveCallout numbers a finding about the drive, or the current, at the longest move in the
// window, or in the middle where nothing is driven.
func (d *drawing) driveCallout(s *sheet, f *frame, ser *signal.Series, busy *clutter, m mark) {
	a, long := pt{f.area.cx(), f.py(0)}, 0.0
	for i := range d.fig.Capture.Moves {
		t := d.fig.Capture.Moves[i].Time
		from, to := math.Max(t.From, f.x0), math.Min(t.To, f.x1)
		if to-from <= long {
			continue
		}
		if v, ok := valueAt(d.fig.Trace.Time, ser, (from+to)/2); ok {
			a, long = pt{f.px((from + to) / 2), f.clampY(v)}, to-from
		}
	}
	s.number(busy, a, m)
}

// bracket draws a bracket over a stretch of hunting, with its number, how
// fast and how far.
func (d *drawing) bracket(s *sheet, f *frame, busy *clutter, m mark) {
	x0, x1 := f.clampX(m.f.Time.From), f.clampX(m.f.Time.To)
	if x1-x0 < 4 {
		x0, x1 = x0-2, x1+2
	}
	y, tip := d.bracketAt(s, f, m.f)
	y = math.Max(f.area.y0+2, math.Min(f.area.y1-2, y))
	s.stroke([]pt{{x0, y + tip}, {x0, y}, {x1, y}, {x1, y + tip}}, s.th.mark, 1.6)
	busy.line([]pt{{x0, y}, {x1, y}})

	t := huntWords(m.f, d.unit())
	st := s.strong()
	w := s.badgeSize() + 0.5*s.size + s.width(t, st)
	h := s.badgeSize()
	a := pt{(x0 + x1) / 2, y}
	b, ok := s.placeOff(busy, a, w+0.6*s.size, h, 40) // words hide more of the trace than a number
	if !ok {
		return
	}
	s.leader(b, a)
	busy.line([]pt{b.edge(a), a})
	s.above(func() {
		s.fill(b, s.th.panel)
		s.outline(b, s.th.mark, 0.8)
		s.badge(fmt.Sprint(m.n), box{b.x0, b.y0, b.x0 + h, b.y1})
		s.text(t, st, b.x0+h+0.4*s.size, b.cy(), align{0, 0.5})
	})
}

// bracketAt is the height of the bracket over a stretch of hunting and which way its ends
// point: above the reading or below it, where there is room, and else over what hunts.
func (d *drawing) bracketAt(s *sheet, f *frame, x *analyze.Finding) (y, tip float64) {
	low, high := d.rangeWithin(math.Max(x.Time.From, f.x0), math.Min(x.Time.To, f.x1), false)
	gap, room := 0.9*s.size, 2*s.size
	for _, v := range []analyze.Interval{{From: math.Min(low, x.Volts.From), To: math.Max(high, x.Volts.To)}, x.Volts} {
		if y = f.clampY(v.To) + gap; y <= f.area.y1-room {
			return y, -4
		}
		if y = f.clampY(v.From) - gap; y >= f.area.y0+room {
			return y, 4
		}
	}
	return y, 4
}

// huntWords is the frequency and the size of a hunt.
func huntWords(f *analyze.Finding, unit string) string {
	hz, ok := f.Measure(analyze.MeasureFrequency)
	amp, ok2 := f.Measure(analyze.MeasureAmplitude)
	switch {
	case ok && ok2:
		return fmt.Sprintf("%.2g Hz, %s %s", hz, twoDigits(amp), unit)
	case ok:
		return fmt.Sprintf("%.2g Hz", hz)
	}
	return "hunting"
}
