package plots

import (
	"fmt"
	"math"
	"sort"

	"threewire/analyze"
	"threewire/analyze/stats"
)

// huntPanel shows the strongest hunting close up, and below how far it
// repeats itself.
func (d *drawing) huntPanel(s *sheet, area box) {
	h := hunting(d.fig.Capture)
	from, to := huntWindow(d.fig, h)
	title := fmt.Sprintf("Close-up, %.1f to %.1f s", from, to)
	for _, m := range d.marks {
		x := area.x0 + s.width(title, s.strong()) + 0.7*s.size
		if r := s.badgeSize(); m.f == h && !d.o.Blank && x+r < area.x1 {
			s.badge(fmt.Sprint(m.n), box{x, area.y1 - 1.27*s.size, x + r, area.y1 - 1.27*s.size + r})
		}
	}
	area = s.heading(title, area)
	in := box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - 0.8*s.size, area.y1}
	gap := s.bottomMargin() + 2*s.size
	h1 := (in.h() - gap) * 0.56
	top := &frame{s: s, area: box{in.x0, in.y1 - h1, in.x1, in.y1 - 1.2*s.size}, x0: from, x1: to}
	low := &frame{s: s, area: box{in.x0, in.y0, in.x1, in.y1 - h1 - gap}}

	// The feedback's own range in the window, so that small hunting fills it.
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, l := range envelope(d.fig.Trace, &d.fig.Trace.Feedback, from, to, 400) {
		for _, p := range clip(l, from, to) {
			lo, hi = math.Min(lo, p.y), math.Max(hi, p.y)
		}
	}
	if !(hi >= lo) {
		lo, hi = 0, 1
	}
	pad := 0.12*(hi-lo) + 1e-6
	top.y0, top.y1 = lo-pad, hi+pad
	ax := axes{x: "time, s", y: "feedback, " + d.unit()}
	top.back()
	if !d.o.Blank {
		d.moveTints(s, []*frame{top})
	}
	top.grid(ax)
	if !d.o.Blank {
		d.moveLane(s, top, 1.2*s.size)
	}
	d.trace(s, top, d.fig, &d.fig.Trace.Feedback, s.th.feedback, s.lineWidth(), nil)
	top.front(ax)
	d.correlation(s, low, h)
}

// huntWindow is at most a dozen cycles of the hunt, with a little room.
func huntWindow(f *Figure, h *analyze.Finding) (from, to float64) {
	from, to = busiest(f, h, 12)
	pad := 0.04 * (to - from)
	a, b := wholeTime(f)
	return math.Max(a, from-pad), math.Min(b, to+pad)
}

// busiest is the stretch of so many cycles of the hunt in which it turns round
// most often, the middle first; all of it if it is no longer.
func busiest(f *Figure, h *analyze.Finding, cycles float64) (from, to float64) {
	from, to = h.Time.From, h.Time.To
	hz, ok := h.Measure(analyze.MeasureFrequency)
	if !ok || !(hz > 0) || (to-from)*hz <= cycles {
		return from, to
	}
	width := cycles / hz
	mid := (from + to - width) / 2
	start, most := mid, turns(f.Capture.Moves, mid, width)
	for i := range f.Capture.Moves {
		t := f.Capture.Moves[i].Time.From
		if t < from || t > to-width {
			continue
		}
		n := turns(f.Capture.Moves, t, width)
		if n > most || n == most && math.Abs(t-mid) < math.Abs(start-mid) {
			start, most = t, n
		}
	}
	return start, start + width
}

// turns is how many moves begin within width s from start on.
func turns(moves []analyze.Move, start, width float64) int {
	at := func(t float64) int {
		return sort.Search(len(moves), func(i int) bool { return moves[i].Time.From >= t })
	}
	return at(start+width) - at(start)
}

// correlation draws the autocorrelation of the drive's direction over the
// hunt: peaks at whole cycles show how regular it is. The direction has no
// noise, and hunting may be too small to see in the feedback.
func (d *drawing) correlation(s *sheet, f *frame, h *analyze.Finding) {
	r, step := huntACF(d.fig, h)
	hz, ok := h.Measure(analyze.MeasureFrequency)
	t := "The drive against itself, shifted"
	st := s.small()
	b := s.text(s.f.shorten(t, st.size, false, f.area.w()), st, f.area.x0, f.area.y1+0.35*s.size, align{0, 0})
	if ok && hz > 0 && !d.o.Blank {
		t = fmt.Sprintf("– one cycle is %.2g s", 1/hz)
		if x := b.x1 + 0.3*s.size; x+s.width(t, st) < f.area.x1 {
			s.text(t, st, x, b.y0, align{0, 0})
		}
	}
	ax := axes{x: "shifted by, s", y: "likeness", yAt: []float64{-1, 0, 1}}
	f.y0, f.y1 = -1.1, 1.1
	f.x0, f.x1 = 0, math.Max(step, step*float64(len(r)-1))
	f.back()
	f.grid(ax)
	if ok && hz > 0 && !d.o.Blank && 1/hz < f.x1 {
		x := f.px(1 / hz)
		s.line(x, f.area.y0, x, f.area.y1, s.th.mark, 1.1, 5, 3)
	}
	var p []pt
	for k, v := range r {
		if finite(v) {
			p = append(p, pt{f.px(step * float64(k)), f.clampY(v)})
		}
	}
	s.line(f.area.x0, f.py(0), f.area.x1, f.py(0), s.th.faint, 0.6)
	s.stroke(p, s.th.feedback, s.lineWidth())
	f.front(ax)
}

// huntACF is the autocorrelation of the direction of drive over at most forty
// cycles of the hunt, in even steps, 25 a cycle or more, for up to five cycles
// and half of the stretch.
func huntACF(f *Figure, h *analyze.Finding) (r []float64, step float64) {
	const n = 1024
	from, to := busiest(f, h, 40)
	step = (to - from) / (n - 1)
	x := make([]float64, n)
	moves := f.Capture.Moves
	k := 0
	for i := range x {
		at := from + float64(i)*step
		for k < len(moves) && moves[k].Time.To < at {
			k++
		}
		if k < len(moves) && moves[k].Time.Has(at) {
			x[i] = float64(moves[k].Polarity)
		}
	}
	lags := n / 2
	if hz, ok := h.Measure(analyze.MeasureFrequency); ok && hz > 0 {
		lags = min(lags, int(5/hz/step)+1)
	}
	return stats.ACF(nil, x, max(8, lags)), step
}
