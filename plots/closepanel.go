package plots

import (
	"fmt"
	"math"

	"threewire/analyze"
)

// closeUp is a stretch of time in which a finding shows again and again.
type closeUp struct {
	f        *analyze.Finding
	from, to float64
	shown    int // places in it, of
	of       int // as many
}

const (
	closePlaces = 4       // as many are drawn close up
	closeLeast  = 3       // of fewer each is seen in the whole
	closeApart  = 1. / 20 // of the whole time, from one to the next: closer ones run into each other
)

// closest finds the places that lie closest to each other, of the first finding whose
// places run into each other where the whole time is drawn; nil where none do.
func (d *drawing) closest() *closeUp {
	c := d.fig.Capture
	first, last := d.timeRange()
	for i := range c.Findings {
		f := &c.Findings[i]
		// Places of the track lie side by side against position.
		if c.Explained(i) || f.Kind == analyze.Hunting || f.Tie == analyze.TiedToPosition {
			continue
		}
		if from, to, ok := d.littleJumps(f, first, last); ok {
			return &closeUp{f: f, from: from, to: to}
		}
		at := apart(inside(d.instants(f), first, last), d.fig.Trace.Step)
		if len(at) < closeLeast {
			continue
		}
		n := min(closePlaces, len(at))
		best, width := 0, math.Inf(1)
		for k := 0; k+n <= len(at); k++ {
			if w := at[k+n-1].To - at[k].From; w < width {
				best, width = k, w
			}
		}
		if width > float64(n-1)*closeApart*(last-first) {
			continue
		}
		// A few rows at least, and what comes before and after.
		step := d.fig.Trace.Step
		pad := math.Max(0.3*width, 8*step)
		from, to := math.Max(first, at[best].From-pad), math.Min(last, at[best+n-1].To+pad)
		return &closeUp{f, from, to, len(inside(at, from, to)), len(at)}
	}
	return nil
}

// littleJumps is a stretch in which the little jumps of a stick-slip are seen, which has
// no places of its own: the middle of the longest move, as wide as a few dozen readings or
// a twentieth of the capture; less of it is no close-up.
func (d *drawing) littleJumps(f *analyze.Finding, first, last float64) (from, to float64, ok bool) {
	if f.Kind != analyze.StickSlip || len(f.Places) > 0 {
		return 0, 0, false
	}
	at := d.movingAt(first, last, math.NaN())
	if !finite(at) {
		return 0, 0, false
	}
	start, end := wholeTime(d.fig)
	half := math.Max(0.5*closeApart*(end-start), 30*d.fig.Trace.Step)
	from, to = math.Max(first, at-half), math.Min(last, at+half)
	return from, to, to-from < 0.5*(last-first)
}

// apart takes stretches with less than four readings from one to the next for one: a slip or a loss that
// quivers.
func apart(at []analyze.Interval, step float64) (out []analyze.Interval) {
	for _, t := range at {
		if n := len(out); n > 0 && t.From-out[n-1].To < 3.5*step {
			out[n-1].To = math.Max(out[n-1].To, t.To)
			continue
		}
		out = append(out, t)
	}
	return out
}

// inside are the stretches that lie within a time.
func inside(at []analyze.Interval, first, last float64) (out []analyze.Interval) {
	for _, t := range at {
		if t.From >= first && t.To <= last {
			out = append(out, t)
		}
	}
	return out
}

// instants are the times at which a finding shows, in order: of a reference that is
// disturbed, those at which it is more than half as far off as it gets.
func (d *drawing) instants(f *analyze.Finding) (out []analyze.Interval) {
	if f.Kind != analyze.RefLoss {
		if !spotted(f) {
			return nil
		}
		for _, p := range inOrder(f.Places) {
			if n := len(out); n > 0 && p.Time.From < out[n-1].To { // one place told twice
				out[n-1].To = math.Max(out[n-1].To, p.Time.To)
				continue
			}
			out = append(out, p.Time)
		}
		return out
	}
	r, usual := d.reference(), d.fig.Capture.Reference
	worst, ok := f.Measure(analyze.MeasureLargestDeviation)
	if r == nil || !ok || f.Form != "" || f.Seen < closeLeast {
		return nil
	}
	away := false
	for i, t := range d.fig.Trace.Time {
		now := math.Abs(float64(r.Mean[i])-usual) > 0.5*worst/100*usual
		switch {
		case now && !away:
			out = append(out, analyze.Interval{From: t, To: t})
		case now:
			out[len(out)-1].To = t
		}
		away = now
	}
	return out
}

// closePanel draws the closest places close up.
func (d *drawing) closePanel(s *sheet, area box) {
	c := d.closest()
	title := fmt.Sprintf("Close-up, %s to %s s", closeTime(c.from, c.to-c.from), closeTime(c.to, c.to-c.from))
	if !d.o.Blank {
		if c.shown < c.of && c.of == c.f.Seen {
			title += fmt.Sprintf(": %d of %d places", c.shown, c.of)
		}
		for _, m := range d.marks {
			x := area.x0 + s.width(title, s.strong()) + 0.7*s.size
			if r := s.badgeSize(); m.f == c.f && x+r < area.x1 {
				s.badge(fmt.Sprint(m.n), box{x, area.y1 - 1.27*s.size, x + r, area.y1 - 1.27*s.size + r})
			}
		}
	}
	area = s.heading(s.f.shorten(title, s.strong().size, true, area.w()), area)
	f := &frame{s: s, x0: c.from, x1: c.to, area: box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - 0.8*s.size, area.y1 - 1.5*s.size}}
	lo, hi := d.rangeWithin(c.from, c.to, c.f.Kind == analyze.RefLoss)
	pad := 0.08*(hi-lo) + 1e-6
	f.y0, f.y1 = lo-pad, hi+pad
	ax := axes{x: "time, s", y: "feedback, " + d.unit()}
	f.back()
	if !d.o.Blank {
		d.moveTints(s, []*frame{f})
		for _, b := range spots(s, f, c.f) {
			s.fill(b, s.th.band)
		}
	}
	f.grid(ax)
	if !d.o.Blank {
		d.moveLane(s, f, 1.5*s.size)
	}
	d.channel(s, f, d.reference(), newClutter(f.area), referenceDash())
	d.trace(s, f, d.fig, &d.fig.Trace.Feedback, s.th.feedback, s.lineWidth(), nil)
	if !d.o.Blank {
		for _, b := range spots(s, f, c.f) {
			s.outline(b, s.th.mark, 0.9, 3, 1.5)
		}
	}
	f.front(ax)
}

// closeTime writes a time with as many digits as the width of the close-up asks for.
func closeTime(t, width float64) string {
	digits := max(1, min(4, 1-int(math.Floor(math.Log10(math.Max(width, 1e-9))))))
	return fmt.Sprintf("%.*f", digits, t)
}

// rangeWithin is the range of the feedback within a time, so that what is small fills it,
// with the reference where that is what is looked at.
func (d *drawing) rangeWithin(from, to float64, reference bool) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	widen := func(low, high []float32) {
		for i, t := range d.fig.Trace.Time {
			if t >= from && t <= to && low[i] <= high[i] {
				lo, hi = math.Min(lo, float64(low[i])), math.Max(hi, float64(high[i]))
			}
		}
	}
	widen(d.fig.Trace.Feedback.Min, d.fig.Trace.Feedback.Max)
	if r := d.reference(); r != nil && reference {
		widen(r.Min, r.Max)
	}
	if !(hi >= lo) {
		return 0, 1
	}
	return lo, hi
}
