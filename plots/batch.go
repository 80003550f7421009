package plots

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
)

// Batch is what a picture of many captures shows.
type Batch struct {
	Title string
	// Faults are the verdicts counted, most frequent first.
	Faults []Tally
	// Drifts are the actuators' trends, Unit that of their values, Axis the
	// title of the time axis with its unit.
	Drifts     []Drift
	Unit, Axis string
}

// Tally counts verdicts of one kind.
type Tally struct {
	Name  string
	Count int
}

// Drift is how one end of an actuator's span moved over its captures.
type Drift struct {
	Name string
	// X are the times, Y the feedback at the end that moved most surely.
	X, Y []float64
	// Least is the smallest change that is one to speak of, in the unit of Y; 0 where
	// that is not known.
	Least float64
	// Slope and Intercept are the fitted line; Sure tells that it is more
	// than chance. Only such lines are drawn strong; only they are named, where
	// there are any.
	Slope, Intercept float64
	Sure             bool
}

// maxNamed is as many named lines as a reader can tell apart.
const maxNamed = 8

// DrawBatch draws a Pareto chart of the faults and the drift of the actuators
// in the format "png", "svg" or "pdf". Of the options, those of the page and
// style count. An error that wraps [ErrNothing] says that there is no verdict.
func DrawBatch(w io.Writer, format string, b Batch, o Options) error {
	if err := o.Check(); err != nil {
		return err
	}
	total := 0
	for _, t := range b.Faults {
		total += t.Count
	}
	if total == 0 {
		return fmt.Errorf("no verdict in the batch: %w", ErrNothing)
	}
	f, err := loadFaces()
	if err != nil {
		return err
	}
	width, height, dpi, _ := o.page()
	return render(w, format, width, height, dpi, o.Style.theme(), b.Title, b.alt(total), func(c vg.Canvas) error {
		b.draw(newSheet(c, f, &o), total)
		return nil
	})
}

// draw lays out the page: the two charts side by side, or one over the other
// on an upright page.
func (b *Batch) draw(s *sheet, total int) {
	s.fill(s.page, s.th.paper)
	in := s.page.grow(-1.6 * s.size)
	title := s.strong()
	title.size *= titleSize
	s.text(s.f.shorten(b.Title, title.size, true, in.w()), title, in.x0, in.y1, align{0, 1})
	in.y1 -= 2.6 * s.size
	// Nothing to draw needs no room: a line says it.
	if len(b.Drifts) == 0 {
		note := s.faint()
		s.text("Span drift was not tested: too few dated captures of one actuator that reach both stops.", note, in.x0, in.y0, align{0, 0})
		in.y0 += 2.4 * s.size
		b.pareto(s, in, total)
		return
	}
	left, right := in, in
	gap := 2 * s.size
	if in.w() > in.h() {
		left.x1 = in.x0 + 0.44*in.w() - gap/2
		right.x0 = left.x1 + gap
	} else {
		left.y0 = in.y1 - 0.36*in.h() + gap/2
		right.y1 = left.y0 - gap
	}
	b.pareto(s, left, total)
	b.drifts(s, right)
}

// alt says the picture in words.
func (b *Batch) alt(total int) string {
	s := fmt.Sprintf("Pareto chart of %d verdicts:", total)
	for i, t := range b.Faults {
		if i > 0 {
			s += ","
		}
		s += fmt.Sprintf(" %s %d", t.Name, t.Count)
	}
	sure := 0
	for _, d := range b.Drifts {
		if d.Sure {
			sure++
		}
	}
	return s + fmt.Sprintf(". Span drift of %d actuators over their captures, %d of them more than chance.", len(b.Drifts), sure)
}

// pareto draws a bar for each fault with its number and the share of all
// verdicts down to it.
func (b *Batch) pareto(s *sheet, area box, total int) {
	area = s.heading("Verdicts, most frequent first", area)
	st := s.small()
	row := math.Min(area.h()/float64(len(b.Faults)), 4.2*s.size)
	// A bar's name stands over it: names are longer than small bars.
	note := "999 (100 %, sum 100 %)"
	room := area.w() - s.width(note, st) - 0.6*s.size
	most := 0
	for _, t := range b.Faults {
		most = max(most, t.Count)
	}
	sum, y := 0, area.y1
	for _, t := range b.Faults {
		sum += t.Count
		s.text(s.f.shorten(t.Name, st.size, false, area.w()), st, area.x0, y, align{0, 1})
		bar := box{area.x0, y - 0.78*row, area.x0 + room*float64(t.Count)/float64(most), y - 1.3*st.size}
		s.fill(bar, s.th.feedback)
		share := func(n int) float64 { return 100 * float64(n) / float64(total) }
		s.text(fmt.Sprintf("%d (%.0f %%, sum %.0f %%)", t.Count, share(t.Count), share(sum)), st, bar.x1+0.5*s.size, (bar.y0+bar.y1)/2, align{0, 0.5})
		y -= row
	}
}
