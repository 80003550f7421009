package plots

import "math"

const (
	// mostWritten is how many remarks of the recording are written into a picture: more hide
	// the trace. More of them, as many as of notes, have their lines.
	mostWritten = 8
	// longestWritten is how many characters of each.
	longestWritten = 60
)

// notes draws the hand-written notes.
func (d *drawing) notes(s *sheet, f *frame, busy *clutter) {
	for _, n := range d.o.Notes {
		if f.hasX(n.Time, n.Time) {
			s.note(busy, pt{f.px(n.Time), f.clampY(n.Volts)}, n.Text)
		}
	}
}

// note writes a text in a box near what it is about.
func (s *sheet) note(busy *clutter, a pt, text string) {
	st := s.small()
	lines := s.f.wrap(s.f.printable(text), st.size, false, 15*s.size)
	w := 0.0
	for _, l := range lines {
		w = math.Max(w, s.width(l, st))
	}
	pad := 0.4 * s.size
	b, ok := s.placeWide(busy, a, w+2*pad, float64(len(lines))*leading*st.size+pad)
	if !ok {
		return
	}
	s.leader(b, a)
	busy.line([]pt{b.edge(a), a})
	s.above(func() {
		s.fill(b, s.th.note)
		s.outline(b, s.th.faint, 0.7)
		s.paragraph(text, st, b.x0+pad, b.y1-0.6*pad, 15*s.size)
	})
}

// remarkLines draws a line through the frames at each remark of the recording.
func (v *timeView) remarkLines() {
	list := v.fig.Capture.Remarks
	for _, m := range list[:min(len(list), maxNotes)] {
		for _, l := range v.lanes() {
			if x := l.px(m.Time); l.hasX(m.Time, m.Time) {
				v.s.line(x, l.area.y0, x, l.area.y1, v.s.th.faint, 0.7, 1.5, 2)
			}
		}
	}
}

// remarks writes the remarks of the recording, in quotes, from their lines.
func (v *timeView) remarks() {
	n := 0
	for _, m := range v.fig.Capture.Remarks {
		f := v.feedback.frame
		if !f.hasX(m.Time, m.Time) {
			continue
		}
		if n++; n > mostWritten {
			return
		}
		v.s.note(v.feedback.busy, pt{f.px(m.Time), f.area.y0 + 0.6*v.s.size}, "“"+cut(m.Text, longestWritten)+"”")
	}
}
