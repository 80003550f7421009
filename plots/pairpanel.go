package plots

import (
	"math"
	"slices"

	"threewire/analyze"
)

// startOf is the time from which a capture is laid over another: the first
// sweep up, else the first move, else the first reading.
func startOf(f *Figure) float64 {
	for i := range f.Capture.Sweeps {
		if w := &f.Capture.Sweeps[i]; w.Direction == analyze.Up {
			return w.Time.From
		}
	}
	if m := f.Capture.Moves; len(m) > 0 {
		return m[0].Time.From
	}
	return f.Trace.Time[0]
}

// pairPanel lays two captures over each other: feedback from the first sweep
// up, and speed against position, below it or beside it where the area is
// wide.
func (d *drawing) pairPanel(s *sheet, area box, a, b *Figure, first, second string) {
	area = s.heading(upper(first)+" against "+second, area)
	area = d.pairKey(s, area, a, b, first, second)
	in := box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - 0.8*s.size, area.y1}
	if len(profiles(a.Capture)) == 0 || len(profiles(b.Capture)) == 0 {
		d.pairTime(s, in, a, b)
		return
	}
	if in.w() > 2.2*in.h() {
		in.y1 -= 0.9 * s.size // the words over the speeds stand below the key
		cut := in.x0 + 0.45*in.w()
		d.pairTime(s, box{in.x0, in.y0, cut, in.y1}, a, b)
		d.pairRates(s, box{cut + s.leftMargin() + 1.2*s.size, in.y0, in.x1, in.y1}, a, b)
		return
	}
	gap := s.bottomMargin() + 1.5*s.size
	h := (in.h() - gap) / 2
	d.pairTime(s, box{in.x0, in.y1 - h, in.x1, in.y1}, a, b)
	d.pairRates(s, box{in.x0, in.y0, in.x1, in.y1 - h - gap}, a, b)
}

// pairTime lays the feedback of both over each other.
func (d *drawing) pairTime(s *sheet, area box, a, b *Figure) {
	f := &frame{s: s, area: area}
	sa, sb := startOf(a), startOf(b)
	a0, a1 := wholeTime(a)
	b0, b1 := wholeTime(b)
	f.x0, f.x1 = math.Max(a0-sa, b0-sb), math.Max(math.Min(a1-sa, b1-sb), 1e-3)
	f.x0 = math.Max(f.x0, -0.2*f.x1)
	if !(f.x1 > f.x0) {
		f.x0, f.x1 = math.Min(a0-sa, b0-sb), math.Max(a1-sa, b1-sb)
	}
	al, ah := feedbackRange(a, d.o.Volts)
	bl, bh := feedbackRange(b, d.o.Volts)
	f.y0, f.y1 = math.Min(al, bl), math.Max(ah, bh)
	ax := axes{x: "time from the start of the first sweep up, s", y: "feedback, " + d.unit()}
	f.back()
	f.grid(ax)
	d.shifted(s, f, a, sa, false)
	d.shifted(s, f, b, sb, true)
	f.front(ax)
	if a == d.fig {
		d.pairMarks(s, f, sa)
	}
}

// pairMarks numbers what was found on the line of the first capture, which is the one
// with numbers, where no time panel does.
func (d *drawing) pairMarks(s *sheet, f *frame, zero float64) {
	if d.o.Blank || slices.Contains(d.panels, Time) {
		return
	}
	own := *f // in the capture's own time
	own.x0, own.x1 = f.x0+zero, f.x1+zero
	busy := newClutter(f.area)
	d.trace(s, &own, d.fig, &d.fig.Trace.Feedback, s.th.feedback, s.lineWidth(), busy)
	for _, m := range d.marks {
		if a, ok := d.anchor(s, &own, m); ok {
			s.number(busy, a, m)
		}
	}
	s.settle()
}

// pairRates lays the speeds of both over each other, a frame for each
// direction.
func (d *drawing) pairRates(s *sheet, area box, a, b *Figure) {
	half := (area.w() - 1.2*s.size) / 2
	y1 := rateLimit(a.Capture, b.Capture)
	x0, x1 := positionRange(a.Capture, b.Capture)
	for k, dir := range []analyze.Direction{analyze.Up, analyze.Down} {
		f := &frame{s: s, x0: x0, x1: x1, y1: y1, area: area}
		word := "driven up"
		ax := axes{x: "position, " + d.unit(), y: speedLabel(d.unit(), a.Capture, b.Capture)}
		if k == 0 {
			f.area.x1 = area.x0 + half
		} else {
			f.area.x0, ax.y, word = area.x1-half, "", "driven down"
			ax.yAt = []float64{}
		}
		f.back()
		f.grid(ax)
		d.pairRate(s, f, a, dir, false)
		d.pairRate(s, f, b, dir, true)
		f.front(ax)
		st := s.small()
		y := f.area.y1 + 0.55*s.size
		s.arrow(dir, f.area.x0+0.5*s.size, y, 0.35*s.size)
		s.text(word, st, f.area.x0+1.3*s.size, y, align{0, 0.5})
	}
}

// pairKey says which line is which, and of which file: but a blank picture
// must not tell its answer by the name of a file.
func (d *drawing) pairKey(s *sheet, area box, a, b *Figure, first, second string) box {
	st := s.small()
	y := area.y1 - 0.4*s.size
	half := area.w() / 2
	for k, t := range []string{first, second} {
		x := area.x0 + float64(k)*half
		s.pairLine([]pt{{x, y}, {x + 2.4*s.size, y}}, k == 1)
		s.pairSign(x+1.2*s.size, y, k == 1)
		if !d.o.Blank {
			t += ": " + d.name([]*Figure{a, b}[k])
		}
		s.text(s.f.shorten(t, st.size, false, half-3.6*s.size), st, x+2.9*s.size, y, align{0, 0.5})
	}
	area.y1 -= 1.5 * s.size
	return area
}

func (s *sheet) pairLine(p []pt, second bool) {
	if second {
		s.stroke(p, s.th.second, s.lineWidth(), 5, 2)
		return
	}
	s.stroke(p, s.th.feedback, s.lineWidth())
}

// pairSign tells the two captures apart without colour: discs and squares.
func (s *sheet) pairSign(x, y float64, second bool) {
	r := 0.27 * s.size
	if second {
		b := box{x - r, y - r, x + r, y + r}
		s.fill(b, s.th.panel)
		s.outline(b, s.th.second, 0.9)
		return
	}
	s.disc(x, y, r, s.th.feedback)
}

// shifted draws a capture's feedback with the given time as zero.
func (d *drawing) shifted(s *sheet, f *frame, fig *Figure, zero float64, second bool) {
	next := f.area.x0 + 3*s.size
	if second {
		next += 2.5 * s.size
	}
	for _, l := range envelope(fig.Trace, &fig.Trace.Feedback, f.x0+zero, f.x1+zero, f.cells()) {
		p := clip(l, f.x0+zero, f.x1+zero)
		for i := range p {
			p[i].x -= zero
		}
		var signs []pt
		for _, l := range f.onto(p) {
			s.pairLine(l, second)
			for _, q := range l {
				if q.x >= next {
					signs = append(signs, q)
					next = q.x + 5*s.size
				}
			}
		}
		for _, q := range signs {
			s.pairSign(q.x, q.y, second)
		}
	}
}

// pairRate draws the profile of one direction.
func (d *drawing) pairRate(s *sheet, f *frame, fig *Figure, dir analyze.Direction, second bool) {
	for _, p := range profiles(fig.Capture) {
		if p.Direction != dir {
			continue
		}
		var all []pt
		for _, run := range passed(p) {
			var line []pt
			for _, q := range run {
				line = append(line, pt{f.px(q.Position), f.clampY(q.Rate)})
			}
			s.pairLine(line, second)
			all = append(all, line...)
		}
		for i, q := range all {
			if k := max(1, len(all)/5); i%k == k/2 {
				s.pairSign(q.x, q.y, second)
			}
		}
	}
}
