package plots

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"

	"threewire/analyze"
)

// legend writes what the numbers and signs mean, above the given y, and
// returns the y above itself. On a blank picture the same room holds lines to
// write on.
func (d *drawing) legend(s *sheet, in box, bottom float64) float64 {
	r := d.listed(s, in)
	high := r.height()
	if d.exercise() {
		high = exerciseRoom(s, r.cols)
		for len(d.marks) > 0 && r.height() > high {
			d.marks, d.more = d.marks[:len(d.marks)-1], d.more+1
			r = d.listed(s, in)
		}
	}
	top := bottom + high
	if d.o.Blank {
		for y := top - leading*s.size; y > bottom-0.1*s.size; y -= 1.7 * s.size {
			s.line(in.x0, y, in.x1, y, s.th.faint, 0.5)
		}
	} else {
		d.writeList(s, in, top, r)
	}
	return d.signs(s, in, top+0.2*s.size)
}

// exerciseRoom is the room for findings of every exercise and its answer: as much
// as its findings need would tell how many there are.
func exerciseRoom(s *sheet, cols int) float64 {
	rows := 3.0
	if cols == 1 {
		rows = 4
	}
	return rows * (2*leading + 0.45) * s.size
}

// list is how the findings are set under the panels: what the captures show together
// across the page, then the findings in columns.
type list struct {
	cols           int
	w, gap, indent float64
	together       []string
	over           float64   // height of what they show together
	heights        []float64 // of each finding
	split          int       // findings of the first column
	tall, below    float64
}

func (l *list) height() float64 { return l.over + l.tall + l.below }

func (d *drawing) listed(s *sheet, in box) list {
	st := s.body()
	l := list{cols: 1, gap: 1.5 * s.size, indent: s.badgeSize() + 2.4*s.size, together: append(d.truly(), d.together()...)}
	if in.w() > narrow*s.size && (len(d.marks) > 1 || d.exercise()) {
		l.cols = 2
	}
	l.w = (in.w() - l.gap*float64(l.cols-1)) / float64(l.cols)
	for _, t := range l.together {
		l.over += float64(s.lines(t, st, in.w()))*leading*st.size + 0.3*s.size
	}
	// Fill the first column, then the second, so that reading order is down.
	total := 0.0
	for _, m := range d.marks {
		h := math.Max(1, float64(s.lines(d.said(m.f), st, l.w-l.indent)))*leading*st.size + 0.45*s.size
		l.heights = append(l.heights, h)
		total += h
	}
	l.split, l.tall = len(d.marks), total
	if l.cols == 2 {
		run := 0.0
		for i, h := range l.heights {
			run += h
			if run >= total/2 {
				l.split, l.tall = i+1, math.Max(run, total-run)
				break
			}
		}
	}
	if d.more > 0 || len(d.marks) == 0 {
		l.below = leading * st.size
	}
	return l
}

// writeList writes the findings below top.
func (d *drawing) writeList(s *sheet, in box, top float64, l list) {
	st := s.body()
	for _, t := range l.together {
		top = s.paragraph(t, st, in.x0, top, in.w()) - 0.3*s.size
	}
	y := top
	for i, m := range d.marks {
		x := in.x0
		if i >= l.split {
			x += l.w + l.gap
		}
		if i == l.split {
			y = top
		}
		d.entry(s, m, x, y, l.w, l.indent)
		y -= l.heights[i]
	}
	y = top - l.tall
	switch {
	case d.more > 0:
		s.text(fmt.Sprintf("and %d more, in the text of the verdict", d.more), s.faint(), in.x0, y, align{0, 1})
	case len(d.marks) == 0:
		s.text(s.f.shorten(d.nothing(), st.size, st.bold, in.w()), st, in.x0, y, align{0, 1})
	}
}

// entry writes one finding of the legend.
func (d *drawing) entry(s *sheet, m mark, x, y, w, indent float64) {
	r := s.badgeSize()
	s.badge(fmt.Sprint(m.n), box{x, y - r, x + r, y})
	s.symbol(kindSymbol(m.f.Kind), x+r+0.5*s.size, y-r+0.1*s.size, 1.3*s.size, 0.11*s.size)
	s.paragraph(d.said(m.f), s.body(), x+indent, y-0.12*s.size, w-indent)
}

// said is what the legend says of a finding; of one that lies outside of the
// stretch of time drawn, that too.
func (d *drawing) said(f *analyze.Finding) string {
	if w := d.o.Window; w != nil && spotted(f) && !slices.ContainsFunc(f.Places, func(p analyze.Occurrence) bool { return p.Time.Overlaps(*w) }) {
		return d.fig.says(f) + " Outside of this stretch."
	}
	return d.fig.says(f)
}

// sign is one entry of the lines that explain the signs.
type sign struct {
	text  string
	draw  func(x, y float64) // centred on the point, within two type sizes
	blank bool               // shown on a blank picture too
	// unused is a sign that an exercise leaves room for and does not need: which there
	// are would tell its answer.
	unused bool
}

// signSpot is a sign with its place: x from the left, row from the top.
type signSpot struct {
	sign
	x   float64
	row int
}

// signRow is the height of a line of signs, in type sizes.
const signRow = 1.7

// signSpots places the signs in as many rows as they need.
func (d *drawing) signSpots(s *sheet, width float64) (out []signSpot, rows int) {
	x, row := 0.0, 0
	for _, g := range d.inSight(d.signList(s)) {
		need := 2.5*s.size + s.width(g.text, s.small())
		if x > 0 && x+need > width {
			x, row = 0, row+1
		}
		out = append(out, signSpot{g, x, row})
		x += need + 1.7*s.size
	}
	return out, row + 1
}

// inSight puts the signs of an exercise so that none leaves a gap: first those that stand
// on the blank picture too, then those of its answer, last those that only take their room.
func (d *drawing) inSight(list []sign) []sign {
	if !d.exercise() {
		return list
	}
	rank := func(g sign) int {
		switch {
		case g.unused:
			return 2
		case !g.blank:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(list, func(a, b sign) int { return cmp.Compare(rank(a), rank(b)) })
	return list
}

// signs writes the lines that explain arrowheads, tints and bands, above
// bottom, and returns the y above them.
func (d *drawing) signs(s *sheet, in box, bottom float64) float64 {
	spots, rows := d.signSpots(s, in.w())
	top := bottom + float64(rows)*signRow*s.size
	for _, g := range spots {
		if g.unused || d.o.Blank && !g.blank {
			continue
		}
		x, y := in.x0+g.x, top-(float64(g.row)+0.5)*signRow*s.size
		g.draw(x+s.size, y)
		s.text(g.text, s.small(), x+2.5*s.size, y, align{0, 0.5})
	}
	return top
}

// signsBelow is signs below top; it returns the y below them.
func (d *drawing) signsBelow(s *sheet, in box, top float64) float64 {
	_, rows := d.signSpots(s, in.w())
	bottom := top - (float64(rows)*signRow+0.3)*s.size
	d.signs(s, in, bottom)
	return bottom
}

// signList is every sign the panels use, in order.
func (d *drawing) signList(s *sheet) []sign {
	tint := func(dir analyze.Direction, c color.NRGBA) func(x, y float64) {
		return func(x, y float64) {
			b := box{x - s.size, y - 0.6*s.size, x + s.size, y + 0.6*s.size}
			if !d.o.Blank { // which has no tints, only arrows
				s.fill(b, c)
				s.outline(b, s.th.grid, 0.5)
			}
			s.arrow(dir, x, y, 0.4*s.size)
		}
	}
	line := func(c color.NRGBA, width float64, dash ...float64) func(x, y float64) {
		return func(x, y float64) { s.line(x-s.size, y, x+s.size, y, c, width, dash...) }
	}
	var out []sign
	has := func(list ...Panel) bool {
		return slices.ContainsFunc(list, func(p Panel) bool { return slices.Contains(d.panels, p) })
	}
	// What the capture has, or an exercise could have.
	add := func(used bool, g sign) {
		if g.unused = !used; used || d.exercise() {
			out = append(out, g)
		}
	}
	if has(Time) {
		out = append(out, sign{text: "feedback", draw: line(s.th.feedback, s.lineWidth()), blank: true})
		if d.referenceInView() {
			out = append(out, sign{text: "reference", draw: line(s.th.faint, 0.8*s.lineWidth(), referenceDash()...), blank: true})
		}
		if d.supply() != nil {
			out = append(out, sign{text: "supply", draw: line(s.th.faint, 0.8*s.lineWidth(), supplyDash()...), blank: true})
		}
	}
	moves := [3]bool{}
	from, to := d.timeRange()
	for i := range d.fig.Capture.Moves {
		if t := d.fig.Capture.Moves[i].Time; !has(Rate, Sweeps) && (t.To < from || t.From > to) {
			continue
		}
		moves[d.fig.Capture.Moves[i].Direction+1] = true
	}
	if has(Time, Rate, Hunt, Close, Sweeps) {
		arrows := has(Rate, Sweeps) // those of the moves are left off a blank picture
		add(moves[analyze.Up+1], sign{text: d.drivenWords(analyze.Up), draw: tint(analyze.Up, s.th.up), blank: arrows})
		add(moves[analyze.Down+1], sign{text: d.drivenWords(analyze.Down), draw: tint(analyze.Down, s.th.down), blank: arrows})
		if moves[analyze.None+1] {
			out = append(out, sign{text: "driven", draw: func(x, y float64) { s.arrow(analyze.None, x, y, 0.42*s.size) }})
		}
	}
	if has(Sweeps) {
		out = append(out, sign{text: "end of a sweep", draw: func(x, y float64) { s.disc(x, y, 0.21*s.size, s.th.faint) }, blank: true})
		add(d.trends(), sign{text: "trend, 95 % range", draw: func(x, y float64) {
			s.polygon([]pt{{x - s.size, y - 0.1*s.size}, {x + s.size, y + 0.1*s.size}, {x + s.size, y + 0.6*s.size}, {x - s.size, y - 0.6*s.size}}, s.th.grid)
			s.line(x-s.size, y-0.3*s.size, x+s.size, y+0.35*s.size, s.th.mark, 1.2, 6, 2)
		}})
		if slices.ContainsFunc(d.fig.Capture.Sweeps, func(w analyze.Sweep) bool { return !whole(&w) }) {
			out = append(out, sign{text: "not from stop to stop", draw: func(x, y float64) { s.ring(x, y, 0.25*s.size, s.th.faint, 0.8) }, blank: true})
		}
	}
	if has(Rate) {
		out = append(out,
			sign{text: "down to the slowest pass", draw: func(x, y float64) {
				s.line(x-s.size, y+0.4*s.size, x+s.size, y+0.4*s.size, s.th.upInk, s.lineWidth())
				for _, k := range []float64{-0.5, 0, 0.5} {
					s.line(x+k*s.size, y+0.4*s.size, x+k*s.size, y-(0.5+0.4*k)*s.size, s.th.upInk, 0.5)
				}
			}, blank: true},
			sign{text: "typical speed", draw: func(x, y float64) { s.line(x-s.size, y, x+s.size, y, s.th.faint, 0.9, 1.5, 2.5) }})
		add(d.showsStands(), sign{text: "stands under drive", draw: func(x, y float64) { s.standMark(analyze.Up, x+0.3*s.size, y-0.5*s.size, s.size) }})
	}
	if has(Time) {
		early := slices.ContainsFunc(d.stopsInView(), d.heldEarly)
		n := len(d.stopsInView())
		add(n > 1 || n == 1 && !early, sign{text: "mechanical stop", draw: func(x, y float64) { s.stopMark(box{x - s.size, y - 0.25*s.size, x + s.size, y + 0.25*s.size}) }})
		if early {
			out = append(out, sign{text: "stop that the free run goes past", draw: func(x, y float64) { s.earlyMark(box{x - s.size, y - 0.25*s.size, x + s.size, y + 0.25*s.size}) }})
		}
		add(slices.ContainsFunc(d.marks, func(m mark) bool { return placed(m.f) || spotted(m.f) }), sign{text: "place of a finding", draw: func(x, y float64) {
			b := box{x - s.size, y - 0.5*s.size, x + s.size, y + 0.5*s.size}
			s.fill(b, s.th.band)
			s.outline(b, s.th.mark, 0.9, 3, 1.5)
		}})
		if d.fig.Capture.Pulsed {
			out = append(out, sign{text: "local mean of a pulsed drive", draw: line(s.th.drive, s.lineWidth()), blank: true})
		}
	}
	return out
}

// lineWidth of a trace in points.
func (s *sheet) lineWidth() float64 { return 0.12 * s.size }

// stopMark draws a mechanical stop: a hatched bar with a solid edge.
func (s *sheet) stopMark(b box) {
	s.hatch(b, s.th.stop, 0.6, 3)
	s.line(b.x0, b.y0, b.x1, b.y0, s.th.stop, 0.8)
	s.line(b.x0, b.y1, b.x1, b.y1, s.th.stop, 0.8)
}

// referenceInView tells whether the time panel reaches up to the logged reference.
func (d *drawing) referenceInView() bool {
	r := d.reference()
	if r == nil {
		return false
	}
	low, high := seriesRange(r.Min, r.Max)
	lo, hi := d.feedbackAxis()
	return low <= hi && high >= lo
}

// stopsInView are the outermost stops within the feedback axis of the time panel.
func (d *drawing) stopsInView() []analyze.Stop {
	lo, hi := d.feedbackAxis()
	return slices.DeleteFunc(d.extremes(), func(st analyze.Stop) bool { return st.Level < lo || st.Level > hi })
}

// earlyMark draws a stop that is hardly the actuator's own, as the place of a finding.
func (s *sheet) earlyMark(b box) {
	s.fill(b, s.th.band)
	s.line(b.x0, b.y0, b.x1, b.y0, s.th.mark, 0.9, 5, 3)
	s.line(b.x0, b.y1, b.x1, b.y1, s.th.mark, 0.9, 5, 3)
}

// jammed tells whether a finding has the stop for its own: then it is not one
// of the mechanism's.
func (d *drawing) jammed(st analyze.Stop) bool {
	for i := range d.fig.Capture.Findings {
		if f := &d.fig.Capture.Findings[i]; f.Kind == analyze.Jam && f.Direction == st.Direction && f.Volts.Has(st.Level) {
			return true
		}
	}
	return false
}

// extremes are the outermost stops, low first.
func (d *drawing) extremes() []analyze.Stop {
	var out []analyze.Stop
	for _, st := range d.fig.Capture.Stops {
		if st.Extreme && !d.jammed(st) {
			out = append(out, st)
		}
	}
	if len(out) == 2 && out[0].Level > out[1].Level {
		out[0], out[1] = out[1], out[0]
	}
	// Two ends in one place are not the ends of a travel.
	if len(out) == 2 && out[1].Level-out[0].Level < 0.05*d.fig.Capture.Span.Width() {
		return nil
	}
	return out
}

// drivenWords says what a direction of drive means: up is where the reading rises. It is
// told in full where that is not as the sign of the drive says.
func (d *drawing) drivenWords(dir analyze.Direction) string {
	up := dir == analyze.Up
	switch {
	case d.fig.Capture.Sense < 0 && up:
		return "driven up: drive negative, reading rises"
	case d.fig.Capture.Sense < 0:
		return "driven down: drive positive, reading falls"
	case up:
		return "driven up"
	}
	return "driven down"
}
