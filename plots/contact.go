package plots

import (
	"image/color"
	"math"

	"threewire/analyze"
)

// contact draws every capture small: feedback against time, its name, and the
// verdict by sign and word.
func (d *drawing) contact(s *sheet, area box) {
	n := len(d.figs)
	cols, best := 1, math.Inf(1)
	// The grid whose cells come closest to three wide by two high.
	for c := 1; c <= n; c++ {
		rows := (n + c - 1) / c
		ratio := (area.w() / float64(c)) / (area.h() / float64(rows))
		waste := float64(c*rows-n) / float64(n)
		if k := math.Abs(math.Log(ratio/1.5)) + 0.3*waste; k < best {
			cols, best = c, k
		}
	}
	rows := (n + cols - 1) / cols
	gap := 1.2 * s.size
	w := (area.w() - gap*float64(cols-1)) / float64(cols)
	h := (area.h() - gap*float64(rows-1)) / float64(rows)
	for i := range d.figs {
		x := area.x0 + float64(i%cols)*(w+gap)
		top := area.y1 - float64(i/cols)*(h+gap)
		d.cell(s, &d.figs[i], box{x, top - h, x + w, top}, i)
	}
}

// contactKey says once what every cell shows, and returns the y below it.
func (d *drawing) contactKey(s *sheet, in box, y float64) float64 {
	st := s.small()
	mid := y - 0.6*s.size
	b := s.text("Feedback in V against time in s", st, in.x0, mid, align{0, 0.5})
	if d.o.Blank {
		return y - 1.8*s.size
	}
	x := b.x1 + 1.5*s.size
	for _, g := range []struct {
		dir  analyze.Direction
		tint color.NRGBA
		word string
	}{{analyze.Up, s.th.up, "driven up: reading rises"}, {analyze.Down, s.th.down, "driven down: reading falls"}} {
		if x > in.x0 && x+2.6*s.size+s.width(g.word, st) > in.x1 { // a phone
			x, mid, y = in.x0, mid-1.6*s.size, y-1.6*s.size
		}
		c := box{x, mid - 0.6*s.size, x + 2*s.size, mid + 0.6*s.size}
		s.fill(c, g.tint)
		s.outline(c, s.th.grid, 0.5)
		s.arrow(g.dir, c.cx(), mid, 0.4*s.size)
		x = s.text(g.word, st, c.x1+0.6*s.size, mid, align{0, 0.5}).x1 + 1.5*s.size
	}
	return y - 1.8*s.size
}

func (d *drawing) cell(s *sheet, fig *Figure, area box, i int) {
	// Type shrinks with the cell, not below 5 pt.
	k := math.Max(5/s.size, math.Min(1, area.w()/(22*s.size)))
	t := *s
	t.size *= k
	st := style{t.size * smallSize, true, s.th.ink}
	name := d.name(fig)
	switch {
	case d.o.Blank:
		name = letter(i)
	case d.o.Answer: // the key to the blank sheet
		name = letter(i) + ": " + name
	}
	if u := fig.Capture.Unit; u != "" && u != "V" {
		name += ", in " + u
	}
	t.text(t.f.shorten(name, st.size, true, area.w()), st, area.x0, area.y1, align{0, 1})
	y := area.y1 - 1.3*t.size
	if fig.Report != nil {
		side := 1.3 * t.size
		if !d.o.Blank {
			v := &fig.Report.Verdict
			says, fault := shortVerdict(v), v.Conclusion
			if d.o.Answer {
				says = fig.answered()
				if fig.Truth != nil {
					fault = fig.Truth.Fault
				}
			}
			t.symbol(faultSymbol(fault), area.x0, y-side, side, 0.1*t.size)
			vs := style{t.size * smallSize, false, s.th.ink}
			t.text(t.f.shorten(says, vs.size, false, area.w()-side-0.5*t.size), vs, area.x0+side+0.5*t.size, y-side/2, align{0, 0.5})
		}
		y -= side + 0.3*t.size
	}
	f := &frame{s: &t, area: box{area.x0 + 2.6*t.size, area.y0 + 1.5*t.size, area.x1 - 0.5*t.size, y}}
	if f.area.h() < 2*t.size || f.area.w() < 4*t.size {
		s.labels = t.labels
		return
	}
	f.most = max(48, 2900/len(d.figs)) // many captures share the 300 KB of an SVG
	f.x0, f.x1 = wholeTime(fig)
	f.y0, f.y1 = feedbackRange(fig, d.o.Volts)
	ax := axes{}
	if at, dec := ticks(f.y0, f.y1, 2); len(at) > 0 {
		ax.yAt, ax.yDecimal = at, dec
	}
	f.back()
	if !d.o.Blank {
		one := *d
		one.fig = fig
		one.moveTints(&t, []*frame{f})
	}
	f.grid(ax)
	d.trace(&t, f, fig, &fig.Trace.Feedback, s.th.feedback, 0.8*t.lineWidth(), nil)
	f.front(ax)
	s.labels, s.taken = t.labels, t.taken
}

// letter names a capture of an exercise: A to Z, AA and on.
func letter(i int) string {
	name := string(rune('A' + i%26))
	if i >= 26 {
		name = string(rune('A'+i/26-1)) + name
	}
	return name
}

// shortVerdict is a verdict for a small cell.
func shortVerdict(v *analyze.Verdict) string {
	switch v.Conclusion {
	case analyze.NoFault:
		return "no fault, " + percent(v.Probability)
	case analyze.CannotTell:
		return "cannot tell"
	}
	return v.Conclusion.String() + ", " + percent(v.Probability)
}
