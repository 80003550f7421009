package plots

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"threewire/analyze"
)

// MaxFigures is as many captures as a contact sheet shows readably.
const MaxFigures = 60

// Draw draws the figures in the format "png", "svg" or "pdf". The first figure
// is the one the time, rate, sweeps and hunt panels show; overlay takes the
// first coupled and the first free one, compare the first and the second, a
// contact sheet all.
//
// An error that wraps [ErrNothing] says that a panel asked for has nothing to
// show; nothing is written then. Other errors are about the options, or come
// from w.
func Draw(w io.Writer, format string, figs []Figure, o Options) error {
	d, err := compose(figs, o)
	if err != nil {
		return err
	}
	width, height, dpi, _ := d.o.page()
	return render(w, format, width, height, dpi, d.o.Style.theme(), d.title(), d.alt(), func(c vg.Canvas) error {
		d.draw(newSheet(c, d.f, &d.o))
		return nil
	})
}

// drawing is a picture decided on but not yet drawn.
type drawing struct {
	figs   []Figure
	o      Options
	f      *faces
	panels []Panel
	fig    *Figure // the one with callouts
	marks  []mark  // its findings, numbered
	more   int     // findings that found no room
	beside *beside // of a report
}

// mark is a finding with its number.
type mark struct {
	n int
	f *analyze.Finding
}

// maxMarks is as many callouts as a reader can keep apart at a glance.
const maxMarks = 6

func compose(figs []Figure, o Options) (*drawing, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	if len(figs) == 0 {
		return nil, fmt.Errorf("no capture given: %w", ErrNothing)
	}
	if len(figs) > MaxFigures {
		return nil, fmt.Errorf("%d captures do not fit on one page: at most %d", len(figs), MaxFigures)
	}
	for i := range figs {
		if figs[i].Trace == nil || figs[i].Capture == nil || figs[i].Trace.Len() == 0 {
			return nil, fmt.Errorf("capture %d is empty: %w", i+1, ErrNothing)
		}
	}
	f, err := loadFaces()
	if err != nil {
		return nil, err
	}
	d := &drawing{figs: figs, o: o, f: f, fig: &figs[0]}
	if err := d.window(); err != nil {
		return nil, err
	}
	if err := d.choose(); err != nil {
		return nil, err
	}
	if d.panels[0] != Contact {
		list := d.fig.Capture.Findings
		for i := range list {
			if d.fig.Capture.Explained(i) {
				continue
			}
			if len(d.marks) == maxMarks {
				d.more = len(list) - maxMarks
				break
			}
			d.marks = append(d.marks, mark{len(d.marks) + 1, &list[i]})
		}
	}
	return d, nil
}

// name of a capture in the picture.
func (d *drawing) name(f *Figure) string {
	if f.Label != "" {
		return f.Label
	}
	if f.Trace.Source == "-" || f.Trace.Source == "" {
		return "capture"
	}
	return filepath.Base(f.Trace.Source)
}

// title heads the picture. A blank one must not tell the answer by the name
// of its file.
func (d *drawing) title() string {
	switch {
	case d.o.Title != "":
		return d.o.Title
	case d.o.Blank:
		return "What does this capture show?"
	case d.panels[0] == Contact:
		return fmt.Sprintf("%d captures", len(d.figs))
	}
	return d.name(d.fig)
}

func newSheet(c vg.Canvas, f *faces, o *Options) *sheet {
	w, h, _, size := o.page()
	return &sheet{c: c, f: f, th: o.Style.theme(), mono: o.Style == Mono, size: size, page: box{0, 0, w, h}}
}

// draw lays out the page: title, verdict, panels, signs, findings, caption.
// Room is always measured for the full answer, so that the blank picture lies
// exactly under it.
func (d *drawing) draw(s *sheet) {
	s.fill(s.page, s.th.paper)
	in := s.page.grow(-1.6 * s.size)
	y := d.head(s, in)
	if d.panels[0] == Contact {
		bottom := d.foot(s, in)
		d.contact(s, box{in.x0, bottom, in.x1, d.contactKey(s, in, y)})
		return
	}
	bottom := d.foot(s, in)
	bottom = d.legend(s, in, bottom)
	areas := d.areas(s, box{in.x0, bottom + 0.3*s.size, in.x1, y - 0.6*s.size})
	for i, p := range d.panels {
		switch p {
		case Time:
			d.timePanel(s, areas[i])
		case Rate:
			d.ratePanel(s, areas[i])
		case Sweeps:
			d.sweepsPanel(s, areas[i])
		case Hunt:
			d.huntPanel(s, areas[i])
		case Close:
			d.closePanel(s, areas[i])
		case Overlay:
			a, b := d.pair()
			d.pairPanel(s, areas[i], a, b, "coupled", "free")
		case Compare:
			d.pairPanel(s, areas[i], &d.figs[0], &d.figs[1], "before", "after")
		}
	}
}

// head writes title, date and verdict, and returns the y below them.
func (d *drawing) head(s *sheet, in box) float64 {
	st := style{titleSize * s.size, true, s.th.ink}
	right := in.x1
	if d.o.Date != "" {
		b := s.text(d.o.Date, s.faint(), in.x1, in.y1-0.2*s.size, align{1, 1})
		right = b.x0 - s.size
	}
	s.text(s.f.shorten(d.title(), st.size, true, right-in.x0), st, in.x0, in.y1, align{0, 1})
	y := in.y1 - 1.25*st.size
	lines, fault := d.headlines(in.w() < narrow*s.size)
	if len(lines) == 0 || d.panels[0] == Contact {
		return y
	}
	side := 1.5 * s.size
	y -= 0.25 * s.size
	if !d.o.Blank {
		s.symbol(faultSymbol(fault), in.x0, y-side, side, 0.12*s.size)
		hs := style{headSize * s.size, true, s.th.ink}
		for i, l := range lines {
			s.text(s.f.shorten(l, hs.size, true, in.w()-2*side), hs, in.x0+side+0.6*s.size, y-(0.5+float64(i))*side, align{0, 0.5})
		}
	}
	return y - float64(len(lines))*side - 0.3*s.size
}

// verdict is one line with the component, how sure, and the part; of a
// capture before and one after, both in short.
func (d *drawing) verdict() (string, analyze.Fault) {
	if d.fig.Report == nil {
		return "", 0
	}
	v := &d.fig.Report.Verdict
	if slices.Contains(d.panels, Compare) && d.figs[1].Report != nil {
		return repairWords(d.repair()) + "Before: " + shortVerdict(v) + " – after: " + shortVerdict(&d.figs[1].Report.Verdict), v.Conclusion
	}
	return verdictWords(v), v.Conclusion
}

func verdictWords(v *analyze.Verdict) string {
	switch v.Conclusion {
	case analyze.NoFault:
		return "No fault found (" + percent(v.Probability) + ")"
	case analyze.CannotTell:
		if v.Part != "" && v.Part != analyze.CannotTell.Part() && v.Part != "none" {
			return "Cannot tell which component; the part is the " + v.Part
		}
		return "Cannot tell from this capture"
	}
	t := upper(v.Conclusion.String()) + " (" + percent(v.Probability) + ")"
	if v.Part != "" && v.Part != v.Conclusion.String() {
		t += " – part: " + v.Part
	}
	return t
}

// percent rounds a probability without claiming certainty.
func percent(p float64) string {
	switch {
	case p > 0.99:
		return "over 99" + bound + "%"
	case p < 0.01:
		return "under 1" + bound + "%"
	}
	return fmt.Sprintf("%.0f"+bound+"%%", 100*p)
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// foot writes the caption at the bottom and returns the y above it.
func (d *drawing) foot(s *sheet, in box) float64 {
	t := d.o.Caption
	if t == "" {
		return in.y0
	}
	st := s.faint()
	n := s.lines(t, st, in.w())
	top := in.y0 + float64(n)*leading*st.size
	s.paragraph(t, st, in.x0, top, in.w())
	return top + 0.4*s.size
}

// areas divides the page among the panels: the time panel at the left of a
// wide page and the others beside it, all below one another on a tall page.
func (d *drawing) areas(s *sheet, in box) []box {
	n := len(d.panels)
	if n == 1 {
		return []box{in}
	}
	gap := 1.2 * s.size
	out := make([]box, n)
	// Beside one another on a phone they are a thumb wide: not so where there is height for
	// both, the axes and lanes of each and twice as much for its lines.
	stack := in.w() <= narrow*s.size && in.h() >= 15*s.size*float64(n)
	if in.w() > 1.25*in.h() && !stack {
		x := in.x0 + 0.6*in.w()
		if d.panels[0] != Time || n == 2 && (d.panels[1] == Overlay || d.panels[1] == Compare) {
			x = in.x0 + 0.52*in.w()
		}
		out[0] = box{in.x0, in.y0, x - gap/2, in.y1}
		h := (in.h() - gap*float64(n-2)) / float64(n-1)
		for i := 1; i < n; i++ {
			top := in.y1 - float64(i-1)*(h+gap)
			out[i] = box{x + gap/2, top - h, in.x1, top}
		}
		return out
	}
	share := make([]float64, n)
	sum := 0.0
	for i, p := range d.panels {
		share[i] = 1
		if p == Time {
			share[i] = 1.5
		}
		sum += share[i]
	}
	y := in.y1
	for i := range out {
		h := (in.h() - gap*float64(n-1)) * share[i] / sum
		out[i] = box{in.x0, y - h, in.x1, y}
		y -= h + gap
	}
	return out
}

// heading writes the name of a panel and returns the area below it.
func (s *sheet) heading(t string, area box) box {
	st := style{s.size, true, s.th.ink}
	s.text(s.f.shorten(t, st.size, true, area.w()), st, area.x0, area.y1, align{0, 1})
	area.y1 -= 1.9 * s.size
	return area
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
