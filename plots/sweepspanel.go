package plots

import (
	"math"
	"slices"

	"threewire/analyze"
	"threewire/analyze/stats"
)

// sweepsPanel draws the two ends of each sweep with their trend, and below the time each
// sweep took from the one to the other, stalls left out: a finding that compares passes
// between two readings of its own has shorter ones.
func (d *drawing) sweepsPanel(s *sheet, area box) {
	area = s.heading("Each sweep: ends and travel time", area)
	sw := d.fig.Capture.Sweeps
	in := box{area.x0 + s.leftMargin(), area.y0 + s.bottomMargin(), area.x1 - 0.8*s.size, area.y1}
	cut := in.y0 + 0.38*in.h()
	top := &frame{s: s, area: box{in.x0, cut + 0.5*s.size, in.x1, in.y1}, x0: 0.4, x1: float64(len(sw)) + 0.6}
	low := &frame{s: s, area: box{in.x0, in.y0, in.x1, cut - 0.5*s.size}, x0: top.x0, x1: top.x1}
	lo, hi, slow := math.Inf(1), math.Inf(-1), 0.0
	for i := range sw {
		lo, hi = math.Min(lo, sw[i].Low), math.Max(hi, sw[i].High)
		slow = math.Max(slow, sw[i].Transit)
	}
	pad := 0.1*(hi-lo) + 1e-6
	top.y0, top.y1 = lo-pad, hi+pad
	low.y0, low.y1 = 0, 1.2*slow+1e-6
	tax := axes{y: "span, " + d.unit(), noX: true, wholeX: true, noGridX: true}
	lax := axes{x: "sweep number", y: "end to end, s", wholeX: true, noGridX: true}
	top.back()
	low.back()
	top.grid(tax)
	low.grid(lax)

	shown := tellingSweeps(sw)
	r := math.Max(1.5, math.Min(0.35*s.size, 0.3*top.area.w()/float64(len(shown)+1)))
	var spans, times [][]pt
	for _, i := range shown {
		x := top.px(float64(i + 1))
		spans = append(spans, []pt{{x, top.py(sw[i].Low)}, {x, top.py(sw[i].High)}})
		times = append(times, []pt{{x, low.area.y0}, {x, low.py(sw[i].Transit)}})
	}
	s.strokes(slices.Concat(spans, times), s.th.faint, math.Min(0.8, 0.5*r))
	if !d.o.Blank {
		for _, dir := range []analyze.Direction{analyze.Up, analyze.Down} {
			s.trend(top, sw, sweepEnd(dir), true)
			s.trend(low, sw, sweepTime(dir), false)
		}
	}
	for _, i := range shown {
		x := top.px(float64(i + 1))
		if len(shown) <= 60 { // dots of many run together
			s.disc(x, top.py(sw[i].Low), 0.6*r, s.th.faint)
			s.disc(x, top.py(sw[i].High), 0.6*r, s.th.faint)
		}
		if !whole(&sw[i]) { // cut short: its time is not a travel time
			s.ring(x, low.py(sw[i].Transit), 0.7*r, s.th.faint, math.Min(0.8, 0.5*r))
		} else {
			s.arrow(sw[i].Direction, x, low.py(sw[i].Transit), r)
		}
		if !sw[i].Stalled {
			continue
		}
		if sw[i].Direction == analyze.Up {
			s.arrow(analyze.Up, x, top.py(sw[i].High), r)
		} else {
			s.arrow(analyze.Down, x, top.py(sw[i].Low), r)
		}
	}
	top.front(tax)
	low.front(lax)
	if d.o.Blank {
		return
	}
	ends, paces := newClutter(top.area), newClutter(low.area)
	for k := range spans {
		ends.line(spans[k])
		paces.line(times[k])
	}
	for _, m := range d.marks {
		switch m.f.Kind {
		case analyze.SpanDrift, analyze.TravelChange:
			if i, v, ok := movedEnd(sw, m.f); ok {
				s.number(ends, pt{top.px(float64(i + 1)), top.py(v)}, m)
			}
		case analyze.Heating:
			i := len(sw) - 1
			for i > 0 && !whole(&sw[i]) {
				i--
			}
			s.number(paces, pt{low.px(float64(i + 1)), low.py(sw[i].Transit)}, m)
		}
	}
	s.settle()
}

// tellingSweeps are the sweeps drawn: all of them, or of very many the lowest,
// the highest and the slowest of each bunch, so that no odd one is missed.
func tellingSweeps(sw []analyze.Sweep) []int {
	const most = 200 // marks that can be told apart across a panel
	bunch := 1
	if len(sw) > most {
		bunch = (3*len(sw) + most - 1) / most
	}
	var out []int
	for from := 0; from < len(sw); from += bunch {
		lowest, highest, slowest := from, from, from
		for i := from; i < min(from+bunch, len(sw)); i++ {
			if sw[i].Low < sw[lowest].Low {
				lowest = i
			}
			if sw[i].High > sw[highest].High {
				highest = i
			}
			if sw[i].Transit > sw[slowest].Transit {
				slowest = i
			}
		}
		pick := []int{lowest, highest, slowest}
		slices.Sort(pick)
		out = append(out, slices.Compact(pick)...)
	}
	return out
}

// movedEnd is the last sweep that reached the end which moved more, and the
// level it reached.
func movedEnd(sw []analyze.Sweep, f *analyze.Finding) (i int, level float64, ok bool) {
	size := func(end string) float64 {
		drift, _ := f.Measure(analyze.EndMeasure(end, "drift"))
		step, _ := f.Measure(analyze.EndMeasure(end, "step"))
		return math.Max(math.Abs(drift), math.Abs(step))
	}
	dir := analyze.Up
	if size("low end") > size("high end") {
		dir = analyze.Down
	}
	for i := len(sw) - 1; i >= 0; i-- {
		if sw[i].Stalled && sw[i].Direction == dir {
			if dir == analyze.Up {
				return i, sw[i].High, true
			}
			return i, sw[i].Low, true
		}
	}
	return 0, 0, false
}

// whole tells whether a sweep ran from stop to stop.
func whole(w *analyze.Sweep) bool { return w.Stalled && w.FromStall }

// ofSweep is a value that some sweeps have.
type ofSweep func(*analyze.Sweep) (float64, bool)

// sweepEnd is the end at which a sweep of a direction came to a stand.
func sweepEnd(dir analyze.Direction) ofSweep {
	return func(w *analyze.Sweep) (float64, bool) {
		if dir == analyze.Up {
			return w.High, w.Stalled && w.Direction == dir
		}
		return w.Low, w.Stalled && w.Direction == dir
	}
}

// sweepTime is the time of a sweep of a direction from stop to stop.
func sweepTime(dir analyze.Direction) ofSweep {
	return func(w *analyze.Sweep) (float64, bool) { return w.Transit, w.Direction == dir && whole(w) }
}

// leastTrend is as many of a kind as make a trend.
const leastTrend = 3

// valued are the numbers of the sweeps that have a value, and the values.
func valued(sw []analyze.Sweep, value ofSweep) (x, y []float64) {
	for i := range sw {
		if v, ok := value(&sw[i]); ok && finite(v) {
			x, y = append(x, float64(i+1)), append(y, v)
		}
	}
	return x, y
}

// trends tells whether the sweeps have a trend to draw.
func (d *drawing) trends() bool {
	for _, dir := range []analyze.Direction{analyze.Up, analyze.Down} {
		for _, v := range []ofSweep{sweepEnd(dir), sweepTime(dir)} {
			if x, _ := valued(d.fig.Capture.Sweeps, v); len(x) >= leastTrend {
				return true
			}
		}
	}
	return false
}

// trend draws the Theil-Sen line of the chosen values and the fan of its 95 %
// interval. A bounded line goes as far as there were values: an end that came to rest at a
// rail goes no further.
func (s *sheet) trend(f *frame, sw []analyze.Sweep, value ofSweep, bounded bool) {
	x, y := valued(sw, value)
	if len(x) < leastTrend {
		return
	}
	t := stats.TheilSen(x, y, 0.95)
	if !finite(t.Slope) || !finite(t.Intercept) {
		return
	}
	a, b := x[0], x[len(x)-1]
	mx, my := stats.Median(x), stats.Median(y)
	least, most := slices.Min(y), slices.Max(y)
	along := func(slope, least, most float64) (p []pt) {
		const steps = 64
		for k := 0; k <= steps; k++ {
			v := a + (b-a)*float64(k)/steps
			p = append(p, pt{f.px(v), f.clampY(math.Max(least, math.Min(most, my+slope*(v-mx))))})
		}
		return p
	}
	if finite(t.Low) && finite(t.High) {
		floor := math.Min(0, least)
		under, over := along(t.Low, floor, math.Inf(1)), along(t.High, floor, math.Inf(1))
		slices.Reverse(over)
		s.polygon(append(under, over...), s.th.grid)
	}
	if !bounded {
		least, most = math.Inf(-1), math.Inf(1)
	}
	s.stroke(along(t.Slope, least, most), s.th.mark, 1.2, 6, 2)
}
