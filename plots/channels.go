package plots

import (
	"image/color"
	"math"
	"slices"

	"threewire/signal"
)

// trace draws one channel.
func (d *drawing) trace(s *sheet, f *frame, fig *Figure, ser *signal.Series, c color.NRGBA, width float64, busy *clutter) {
	var lines [][]pt
	for _, l := range envelope(fig.Trace, ser, f.x0, f.x1, f.cells()) {
		for _, p := range f.onto(clip(l, f.x0, f.x1)) {
			if len(p) == 1 {
				s.disc(p[0].x, p[0].y, width, c)
			} else {
				lines = append(lines, p)
			}
			if busy != nil {
				busy.line(p)
			}
		}
	}
	s.strokes(lines, c, width)
}

// driveTrace draws the drive; of a pulsed drive the envelope goes faint and
// the local mean on top, for a solid block tells nothing.
func (d *drawing) driveTrace(s *sheet, f *frame, busy *clutter) {
	t := d.fig.Trace
	if !d.fig.Capture.Pulsed {
		d.trace(s, f, d.fig, &t.Drive, s.th.drive, 0.8*s.lineWidth(), busy)
		return
	}
	d.trace(s, f, d.fig, &t.Drive, mix(s.th.drive, s.th.panel, 0.35), 0.5*s.lineWidth(), nil)
	cells := f.cells()/4 + 1
	sum, n := make([]float64, cells), make([]int, cells)
	for i, x := range t.Time {
		k := int((x - f.x0) / (f.x1 - f.x0) * float64(cells))
		if v := t.Drive.Mean[i]; x >= f.x0 && k < cells && v == v {
			sum[k] += float64(v)
			n[k]++
		}
	}
	var p []pt
	for k := range sum {
		if n[k] > 0 {
			p = append(p, pt{f.area.x0 + (float64(k)+0.5)/float64(cells)*f.area.w(), f.clampY(sum[k] / float64(n[k]))})
		}
	}
	s.stroke(p, s.th.drive, s.lineWidth())
	busy.line(p)
}

// reference is the logged sensor supply, nil if there is none in the
// feedback's unit.
func (d *drawing) reference() *signal.Series {
	if r := d.fig.Trace.Reference; r != nil && r.Unit == d.unit() && d.fig.Capture.Reference > 0 {
		return r
	}
	return nil
}

// supply is the logged motor supply, nil if there is none in the drive's unit.
func (d *drawing) supply() *signal.Series {
	if r := d.fig.Trace.Supply; r != nil && r.Unit == "V" && !d.fig.Trace.DriveIsPolarity {
		return r
	}
	return nil
}

// currentUnit is the unit of the logged motor current, in words where the file tells none.
func (d *drawing) currentUnit() string {
	if c := d.fig.Trace.Current; c != nil && c.Unit != "" {
		return c.Unit
	}
	return "no unit"
}

// currentFrame is the strip of the motor current below that of the drive; nil
// when no current was logged. It ends at three times what all but one of a
// hundred readings stay below: a single spike must not flatten the rest, and a
// start draws more than a run (a motor at rest has no voltage of its own).
func (d *drawing) currentFrame(s *sheet, drive box, height, from, to float64) *frame {
	c := d.fig.Trace.Current
	if c == nil {
		return nil
	}
	lo, hi := seriesRange(c.Min, c.Max)
	if !(hi >= lo) {
		return nil
	}
	var size []float64
	for i := 0; i < len(c.Mean); i += 1 + len(c.Mean)/20000 { // a sample is enough for a size
		if a := math.Abs(float64(c.Mean[i])); finite(a) {
			size = append(size, a)
		}
	}
	if len(size) == 0 {
		return nil
	}
	slices.Sort(size)
	if usual := size[(len(size)-1)*99/100]; usual > 0 {
		lo, hi = math.Max(lo, -3*usual), math.Min(hi, 3*usual)
	}
	lo, hi = math.Min(lo, 0), math.Max(hi, 0)
	if hi == lo {
		hi = 1
	}
	pad := 0.08 * (hi - lo)
	top := drive.y0 - 0.6*s.size
	return &frame{s: s, area: box{drive.x0, top - math.Max(2.8*s.size, 0.15*height), drive.x1, top},
		x0: from, x1: to, y0: lo - pad, y1: hi + pad}
}

// The dashes of the two, which have the same colour.
func referenceDash() []float64 { return []float64{6, 2, 1.5, 2} }
func supplyDash() []float64    { return []float64{2, 1.5} }

// channel draws a further channel, dashed and thin.
func (d *drawing) channel(s *sheet, f *frame, ser *signal.Series, busy *clutter, dash []float64) {
	if ser == nil {
		return
	}
	for _, l := range envelope(d.fig.Trace, ser, f.x0, f.x1, f.cells()/4+1) {
		for _, p := range f.onto(clip(l, f.x0, f.x1)) {
			s.stroke(p, s.th.faint, 0.8*s.lineWidth(), dash...)
			busy.line(p)
		}
	}
}

// reading is the feedback at a time.
func (d *drawing) reading(at float64) (float64, bool) {
	return valueAt(d.fig.Trace.Time, &d.fig.Trace.Feedback, at)
}

// valueAt is a channel's value at a time; false where it is missing.
func valueAt(time []float64, ser *signal.Series, at float64) (float64, bool) {
	i, _ := slices.BinarySearch(time, at)
	v := float64(ser.Mean[min(i, len(time)-1)])
	return v, v == v
}
