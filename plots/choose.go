package plots

import (
	"fmt"
	"math"

	"threewire/analyze"
)

// window refuses a stretch of time, or a range of volts, without a reading in
// it.
func (d *drawing) window() error {
	if v := d.o.Volts; v != nil {
		low, high := seriesRange(d.fig.Trace.Feedback.Min, d.fig.Trace.Feedback.Max)
		if v.To < low || v.From > high {
			return fmt.Errorf("the range %g to %g lies outside the readings of %s, which run from %s to %s (flag --volts): %w",
				v.From, v.To, d.name(d.fig), d.value(low), d.value(high), ErrNothing)
		}
	}
	if d.o.Window == nil {
		return nil
	}
	t := d.fig.Trace.Time
	first, last := t[0], t[len(t)-1]
	if d.o.Window.To <= first || d.o.Window.From >= last {
		stretch := fmt.Sprintf("%g to %g s", d.o.Window.From, d.o.Window.To)
		switch {
		case math.IsInf(d.o.Window.To, 1):
			stretch = fmt.Sprintf("from %g s on", d.o.Window.From)
		case math.IsInf(d.o.Window.From, -1):
			stretch = fmt.Sprintf("up to %g s", d.o.Window.To)
		}
		return fmt.Errorf("the window %s lies outside the capture, which runs from %.4g to %.4g s (flags --from, --to): %w", stretch, first, last, ErrNothing)
	}
	return nil
}

// choose settles which panels are drawn.
func (d *drawing) choose() error {
	for _, p := range d.o.Panels {
		if p == Auto {
			d.panels = append(d.panels, d.auto()...)
			continue
		}
		if why := d.lacks(p); why != "" {
			return fmt.Errorf("panel %s: %s: %w", p, why, ErrNothing)
		}
		d.panels = append(d.panels, p)
	}
	seen := map[Panel]bool{}
	var once []Panel
	for _, p := range d.panels {
		if !seen[p] {
			seen[p] = true
			once = append(once, p)
		}
	}
	d.panels = once
	if seen[Contact] && len(once) > 1 {
		return fmt.Errorf("a contact sheet fills its page: ask for it alone (flag --panel)")
	}
	return nil
}

// auto picks the panels that tell most: never more than three.
func (d *drawing) auto() []Panel {
	switch {
	case d.lacks(Overlay) == "":
		return []Panel{Time, Overlay}
	case len(d.figs) == 2:
		return []Panel{Time, Compare}
	case len(d.figs) > 2:
		return []Panel{Contact}
	}
	out := []Panel{Time}
	if d.exercise() { // a panel chosen for what was found tells what that is
		if d.lacks(Rate) == "" {
			out = append(out, Rate)
		}
		return out
	}
	// On a low page three panels would leave none of them room to be read.
	_, h, _, size := d.o.page()
	most := 3
	if h < 60*size {
		most = 2
	}
	add := func(p Panel) {
		if len(out) < most && d.lacks(p) == "" {
			out = append(out, p)
		}
	}
	if h := hunting(d.fig.Capture); h != nil && h.Counts() {
		add(Hunt)
	}
	add(Close)
	for i := range d.fig.Capture.Findings {
		if d.fig.Capture.Explained(i) {
			continue
		}
		switch d.fig.Capture.Findings[i].Kind {
		case analyze.SpanDrift, analyze.TravelChange, analyze.Heating:
			add(Sweeps)
		}
	}
	add(Rate)
	return out
}

// exercise tells whether the picture is an exercise or the answer to one: what is
// found in it must not show in what is drawn and where.
func (d *drawing) exercise() bool { return d.o.Blank || d.o.Answer }

// lacks says why a panel has nothing to show, "" if it has.
func (d *drawing) lacks(p Panel) string {
	c := d.fig.Capture
	switch p {
	case Rate:
		if len(profiles(c)) == 0 {
			return "no sweep long enough to measure speed against position in " + d.name(d.fig)
		}
	case Sweeps:
		if len(c.Sweeps) < 2 {
			return fmt.Sprintf("%s sweeps over most of the travel seen %s, at least 2 sweeps are needed", d.name(d.fig), times(len(c.Sweeps)))
		}
	case Hunt:
		if hunting(c) == nil {
			return "no hunting was found in " + d.name(d.fig)
		}
	case Close:
		if d.closest() == nil {
			return "no places of a finding lie so close in " + d.name(d.fig) + " that a close-up shows more"
		}
	case Overlay:
		a, b := d.pair()
		if a == nil || b == nil {
			return "it needs a coupled capture and a free one (flag --free)"
		}
	case Compare:
		if len(d.figs) < 2 {
			return "it needs a second capture (flag --after)"
		}
	}
	return ""
}

// pair is the first coupled and the first free figure.
func (d *drawing) pair() (coupled, free *Figure) {
	for i := range d.figs {
		f := &d.figs[i]
		switch {
		case f.Capture.Free && free == nil:
			free = f
		case !f.Capture.Free && coupled == nil:
			coupled = f
		}
	}
	return coupled, free
}

// hunting is the strongest hunting found, nil if there is none.
func hunting(c *analyze.Capture) *analyze.Finding {
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Kind == analyze.Hunting && f.Time.Width() > 0 && !c.Explained(i) {
			return f
		}
	}
	return nil
}
