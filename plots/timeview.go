package plots

import (
	"math"

	"threewire/analyze"
)

// timeView is drive, feedback and, where it was recorded, current against time.
type timeView struct {
	*drawing
	s     *sheet
	stops []analyze.Stop
	// arrows is the height kept over the drive for the arrows of the moves.
	arrows float64
	// names is the height at which the runs are named, under the drive.
	names    float64
	drive    lane
	feedback lane
	current  *lane // nil where it is not drawn
}

// lane is one frame with its axes and what is in the way of words in it.
type lane struct {
	*frame
	ax   axes
	busy *clutter
}

// timePanel draws drive and feedback against time.
func (d *drawing) timePanel(s *sheet, area box) {
	v := &timeView{drawing: d, s: s, stops: d.stopsInView()}
	v.layOut(area)
	v.grounds()
	v.traces()
	if d.o.Blank {
		return
	}
	v.remarkLines()
	d.outlines(s, v.feedback.frame)
	s.nameRuns(v.drive.frame, d.runs(), v.names)
	v.callouts()
	d.notes(s, v.feedback.frame, v.feedback.busy)
	v.remarks()
	s.settle()
}

// layOut shares the area among the frames: drive on top, current under it,
// feedback in the rest.
func (v *timeView) layOut(area box) {
	s := v.s
	from, to := v.timeRange()
	right := 0.8 * s.size
	if len(v.stops) > 0 || v.exercise() {
		right = 6.2 * s.size
	}
	v.arrows = 1.5 * s.size
	in := box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - right, area.y1}
	top := box{in.x0, 0, in.x1, in.y1 - v.arrows}
	top.y0 = top.y1 - math.Max(3.2*s.size, 0.2*in.h())
	strips := top.y0 // the lower edge of what stands above the feedback
	if f := v.currentFrame(s, top, in.h(), from, to); f != nil {
		v.current = &lane{frame: f, ax: axes{y: "current, " + v.currentUnit(), noX: true}, busy: newClutter(f.area)}
		strips = f.area.y0
	}
	gap := 0.7 * s.size
	if len(v.runs()) > 0 || v.exercise() {
		gap = 1.7 * s.size
	}
	v.names = strips - gap/2
	fb := &frame{s: s, area: box{in.x0, in.y0, in.x1, strips - gap}, x0: from, x1: to}
	fb.y0, fb.y1 = v.feedbackAxis()
	v.feedback = lane{fb, axes{x: "time, s", y: "feedback, " + v.unit()}, newClutter(fb.area)}
	dr := &frame{s: s, area: top, x0: from, x1: to}
	dr.y0, dr.y1 = driveRange(v.fig)
	v.drive = lane{dr, v.driveAxes(dr), newClutter(dr.area)}
}

// driveAxes has signs for a polarity, and in a low frame only as many numbers
// as there is room for.
func (d *drawing) driveAxes(f *frame) axes {
	if d.fig.Trace.DriveIsPolarity {
		ax := axes{y: "drive", noX: true, yAt: []float64{-1, 0, 1}, ySign: []string{"–", "0", "+"}}
		if d.fig.Trace.DriveFromCurrent() {
			ax.y = "by current"
		}
		return ax
	}
	ax := axes{y: "drive, V", noX: true}
	if m := f.y1 / 1.15; f.area.h() < 7*f.s.size {
		at, dec := ticks(0, m, 2)
		if k := len(at); k > 1 {
			ax.yAt, ax.yDecimal = []float64{-at[k-1], 0, at[k-1]}, dec
		}
	}
	return ax
}

// lanes are all that are drawn.
func (v *timeView) lanes() []*lane {
	all := []*lane{&v.feedback, &v.drive}
	if v.current != nil {
		all = append(all, v.current)
	}
	return all
}

// grounds draws what lies under the traces.
func (v *timeView) grounds() {
	d, s, fb := v.drawing, v.s, v.feedback.frame
	for _, l := range v.lanes() {
		l.back()
	}
	if !d.o.Blank {
		all := []*frame{v.drive.frame, fb}
		if v.current != nil {
			all = append(all, v.current.frame)
		}
		d.moveTints(s, all)
		d.bands(s, fb)
	}
	for _, l := range v.lanes() {
		l.grid(l.ax)
	}
	if !d.o.Blank {
		d.moveLane(s, v.drive.frame, v.arrows)
		d.stopBands(s, fb, v.stops)
	}
	d.noData(s, fb)
}

// traces draws the channels, each frame's border over them.
func (v *timeView) traces() {
	d, s, fb, dr := v.drawing, v.s, &v.feedback, &v.drive
	d.channel(s, dr.frame, d.supply(), dr.busy, supplyDash())
	d.driveTrace(s, dr.frame, dr.busy)
	d.channel(s, fb.frame, d.reference(), fb.busy, referenceDash())
	d.trace(s, fb.frame, d.fig, &d.fig.Trace.Feedback, s.th.feedback, s.lineWidth(), fb.busy)
	fb.front(fb.ax)
	dr.front(dr.ax)
	if cu := v.current; cu != nil {
		d.trace(s, cu.frame, d.fig, d.fig.Trace.Current, s.th.drive, 0.8*s.lineWidth(), cu.busy)
		cu.front(cu.ax)
	}
}

// callouts names the findings in the frame that each is about. Brackets of
// hunting go first: they have the most words and the least choice of place.
func (v *timeView) callouts() {
	for _, brackets := range []bool{true, false} {
		for _, m := range v.marks {
			if (m.f.Kind == analyze.Hunting) == brackets {
				v.name(m)
			}
		}
	}
}

func (v *timeView) name(m mark) {
	d, s := v.drawing, v.s
	switch {
	case aboutDrive(m.f):
		d.driveCallout(s, v.drive.frame, &d.fig.Trace.Drive, v.drive.busy, m)
	case aboutCurrent(m.f) && v.current != nil:
		d.driveCallout(s, v.current.frame, d.fig.Trace.Current, v.current.busy, m)
	default:
		d.callout(s, v.feedback.frame, v.feedback.busy, m)
	}
}
