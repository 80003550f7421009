package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// endSeries are the stall levels at the ends over the capture, one per
// arrival from the other side.
type endSeries struct {
	x, at, level, transit []float64
}

// outerVisits is the share of the travel at either end within which a stall is
// taken for one at the stop.
const outerVisits = 0.25

// endVisits lists the level of every stall in the outer quarter of the travel,
// whether the shaft came from afar or was only pushed against the stop again.
func (w *work) endVisits() [2]endSeries {
	return w.atEnds.of(func() [2]endSeries { return w.visitsWithin(outerVisits) })
}

// visitsWithin is endVisits for another share of the travel.
func (w *work) visitsWithin(share float64) (ends [2]endSeries) {
	for _, s := range w.stallsAndPushes() {
		dir := w.moves[s.move].Direction
		depth := w.span.To - s.level
		if dir == Down {
			depth = s.level - w.span.From
		}
		if depth > share*w.span.Width() || s.seconds < 2*w.lim.StallSeconds {
			continue
		}
		// A drive so short that a shaft would hardly have left the noise shows no stop.
		if s.pushes == 0 && !s.current && w.rate[side(dir)]*s.seconds < 2*w.tol {
			continue
		}
		e := &ends[side(dir)]
		// Pushed against the stop again without having left it is one visit.
		if n := len(e.x); n > 0 && !w.left(int(e.x[n-1]), s.move, -dir) {
			e.x[n-1] = float64(s.move)
			continue
		}
		e.x = append(e.x, float64(s.move))
		e.at = append(e.at, s.at)
		e.level = append(e.level, s.level)
	}
	for _, s := range w.sweeps {
		if s.Stalled && s.FromStall {
			e := &ends[side(s.Direction)]
			e.transit = append(e.transit, s.Transit)
		}
	}
	return ends
}

// left tells whether a move between two moves, in the given direction,
// travelled at least a tenth of the span.
func (w *work) left(from, to int, dir Direction) bool {
	for k := from + 1; k < to; k++ {
		if m := &w.moves[k]; m.Direction == dir && m.Travel() > 0.1*w.span.Width() {
			return true
		}
	}
	return false
}

// fewVisits is the share of the span that a stop must have moved by where its
// visits are too few for a test of their order.
const fewVisits = 0.02

// besideNeighbours is what a visit is off by from the middle of the visits before and
// after it: the median, as for a visit by itself. A drift that comes to rest, or sets
// in late, is no straight line, and what it is off one tells nothing of the stop's
// repeatability. It is infinite where half of the change came at once: that is a step.
func besideNeighbours(level []float64) float64 {
	if len(level) < 5 {
		return math.Inf(1)
	}
	lo, hi := extremes(level)
	for i := 1; i < len(level); i++ {
		if 2*math.Abs(level[i]-level[i-1]) > hi-lo {
			return math.Inf(1)
		}
	}
	var off []float64
	for i := 1; i+1 < len(level); i++ {
		// Of three alike the middle one and the mean of two scatter by 1.5 variances.
		off = append(off, math.Abs(level[i]-(level[i-1]+level[i+1])/2)/math.Sqrt(1.5))
	}
	return medianOf(off)
}

// endTrend is how one end of the span wanders over the capture.
type endTrend struct {
	change, slope, p, lo, hi float64 // in all and per sweep, V; p and 95 % bounds of the slope
	n                        int     // visits
	real                     bool    // beyond chance and the stop's own repeatability
}

// findDrift tests whether the ends of the feedback span wander from sweep to
// sweep, by Mann-Kendall with the Theil-Sen slope, and whether the transit
// time changes with them.
func (w *work) findDrift() {
	ends := w.endVisits()
	if deep := w.visitsWithin(0.75); shrinksWhole(deep) {
		ends = deep
	}
	var tr [2]endTrend
	for d := range ends {
		if len(ends[d].level) >= 3 {
			tr[d] = w.endTrend(ends, d)
		}
	}
	if !tr[0].real && !tr[1].real {
		both, ok := w.endsTogether(ends)
		if !ok {
			w.findStep(ends)
			return
		}
		tr = both
	}
	f := w.driftFinding(ends, tr)
	w.dropDriftJams(f)
	if shrinksWhole(ends) {
		w.found = slices.DeleteFunc(w.found, func(f Finding) bool { return f.Kind == Jam })
	}
	w.found = append(w.found, f)
}

// endTrend measures how one end wanders and decides whether it does.
func (w *work) endTrend(ends [2]endSeries, d int) endTrend {
	e := &ends[d]
	mk := stats.MannKendall(e.level)
	ts := stats.TheilSen(e.x, e.level, 0.95)
	t := endTrend{change: ts.Slope * (e.x[len(e.x)-1] - e.x[0]), slope: ts.Slope, p: mk.P, lo: ts.Low, hi: ts.High, n: len(e.level)}
	// Scatter about the trend: the repeatability of the stop itself.
	var res []float64
	for i := range e.x {
		res = append(res, math.Abs(e.level[i]-ts.Intercept-ts.Slope*e.x[i]))
	}
	one := w.plateauError(2 * w.lim.StallSeconds) // of one visit
	scatter := stats.MADScale*math.Min(medianOf(res), besideNeighbours(e.level)) + one
	least := leastDrift(w.span.Width(), w.ref)
	big := math.Abs(t.change) > math.Max(least, 5*scatter)
	steady := t.p < 0.05 || (math.Abs(mk.Tau) > 0.99 && math.Abs(t.change) > math.Max(fewVisits*w.span.Width(), 10*scatter)) ||
		// At a rail the reading can go no further, and visits tie.
		(math.Abs(mk.Tau) > 0.85 && math.Abs(t.change) > math.Max(0.05*w.span.Width(), 10*scatter))
	// Ranks alone cannot tell a line of four visits from luck; what they
	// scatter about it can.
	if line, ok := stats.FitLine(e.x, e.level); ok && len(e.x) >= 4 {
		p := line.P(one)
		if p < 0.01 || p < 0.05 && math.Abs(mk.Tau) > 0.99 && math.Abs(t.change) > 0.02*w.span.Width() {
			steady = true
			t.p = math.Min(t.p, p)
		}
	}
	// A drift need not be a straight line: where each visit goes further
	// the same way, by much more than the other end comes back to its
	// place, that is the scatter to compare with.
	// What is soft in the way gives a little further with each push: outward a step
	// must stand clear.
	times := 5.0 // the error of a visit
	if inward := (e.level[len(e.level)-1] < e.level[0]) == (d == 1); inward {
		times = 1
	}
	step, whole := sameWay(toRest(w.upToRail(e.level), one))
	if back := w.comesBack(&ends[1-d]); whole > leastInOrder(step, math.Max(one, back), least, w.span.Width()) && step > math.Max(least/4, times*one) && step > 3*back {
		big, steady = true, true
	}
	// Where the door binds, the shaft stands short of the stop by itself.
	if at := medianOf(e.level); w.bindsAt(at) {
		steady = false
	}
	t.real = big && steady
	return t
}

// leastInOrder is how far visits that each lie beyond the one before must have gone in
// all: three times the least drift, and where each step is ten times what a stop's
// level comes back to, twice that.
func leastInOrder(step, comesBack, least, span float64) float64 {
	if step > 10*comesBack {
		return 2 * least
	}
	return math.Max(3*least, fewVisits*span)
}

// driftFinding describes the trends of both ends, and what the travel times say of
// them.
func (w *work) driftFinding(ends [2]endSeries, tr [2]endTrend) Finding {
	f := Finding{Kind: SpanDrift, Volts: w.span, Tie: TiedToTime, TieP: 1, Event: "drift", Time: w.drivenTime()}
	for d, name := range []string{"low end", "high end"} {
		t := tr[d]
		if t.n < 2 {
			continue
		}
		f.Seen = max(f.Seen, t.n)
		f.Measures = append(f.Measures,
			Measure{EndMeasure(name, "drift"), t.change, w.unit()},
			Measure{EndMeasure(name, "drift per sweep"), t.slope, w.unit()},
			Measure{EndMeasure(name, "drift per sweep, lower 95 %"), t.lo, w.unit()},
			Measure{EndMeasure(name, "drift per sweep, upper 95 %"), t.hi, w.unit()},
			Measure{EndMeasure(name, "p"), t.p, ""})
		f.Measures = append(f.Measures, w.driftPerSecond(name, &ends[d])...)
		if t.real {
			f.TieP = math.Min(f.TieP, t.p)
		}
	}
	f.Passes = f.Seen
	var level [2]float64
	if tr[0].n >= 2 && tr[1].n >= 2 {
		level = [2]float64{medianOf(ends[0].level), medianOf(ends[1].level)}
	}
	f.Form = driftForm([2]float64{tr[0].change, tr[1].change}, [2]bool{tr[0].real, tr[1].real}, level, w.ref, w.tr.Reference != nil)
	span := w.span.Width()
	spanChange := tr[1].change - tr[0].change
	f.Measures = append(f.Measures, Measure{MeasureSpanChange, spanChange, w.unit()})
	// Does the transit time follow the span?
	follows := false
	if dT, ok := transitChange(ends); ok && math.Abs(spanChange/span) > 0.02 {
		f.Measures = append(f.Measures, Measure{"transit time change", 100 * dT, "%"})
		share := dT / (spanChange / span)
		follows = share > 0.6 && share < 1.6
	}
	if s, ok := w.strokeTimes(); ok && s.followsTravel() || follows {
		f.Kind = TravelChange
	}
	f.Strength = math.Min(1, math.Max(math.Abs(tr[0].change), math.Abs(tr[1].change))/(0.02*span)) * (1 - f.TieP)
	return f
}

// transitChange is by how much the travel times change over the capture, as a share
// of themselves.
func transitChange(ends [2]endSeries) (float64, bool) {
	var rel []float64
	for d := range ends {
		y := ends[d].transit
		if len(y) >= 3 {
			var x []float64
			for i := range y {
				x = append(x, float64(i))
			}
			ts := stats.TheilSen(x, y, 0.95)
			rel = append(rel, ts.Slope*float64(len(y)-1)/medianOf(y))
		}
	}
	if len(rel) == 0 {
		return 0, false
	}
	return medianOf(rel), true
}

// inProportion is the form of a drift that scales both ends about zero.
const inProportion = "both ends in proportion"

// driftForm says which ends of the travel moved and how, low end first: by how
// much, whether by more than chance, and at which levels they lie; the levels are
// zero where they are not known. Both ends scaled about zero volts is what a
// falling sensor supply does, unless that was logged.
func driftForm(change [2]float64, real [2]bool, level [2]float64, ref float64, logged bool) string {
	if l, h := level[0], level[1]; !logged && l > 0.02*ref && h > 0 && change[0] != 0 {
		if q := (change[0] / l) / (change[1] / h); q > 0.6 && q < 1.6 {
			return inProportion
		}
	}
	switch {
	case real[0] && !real[1]:
		return "low end"
	case real[1] && !real[0]:
		return "high end"
	case change[0]*change[1] > 0 && math.Abs(change[0]-change[1]) < 0.3*math.Abs(change[1]+change[0])/2:
		return bothEndsAlike
	}
	return scaleOff
}

// shrinksWhole tells whether every stall, either way, lies where a scale that
// goes on shrinking or growing about zero volts puts it: each end always the same
// way, three times at least, and both in proportion. Obstacles do not come and go
// at both ends in step.
func shrinksWhole(ends [2]endSeries) bool {
	var share [2]float64
	for d := range ends {
		l := ends[d].level
		if _, whole := sameWay(l); whole == 0 {
			return false
		}
		share[d] = l[len(l)-1]/l[0] - 1
	}
	q := share[0] / share[1]
	return math.Abs(share[0]) > 0.05 && math.Abs(share[1]) > 0.05 && q > 0.6 && q < 1.6
}

// bindsAt tells whether a slow zone was found at a level.
func (w *work) bindsAt(level float64) bool {
	near := w.resolution()
	for _, f := range w.found {
		if f.Kind == SlowZone && level > f.Volts.From-near && level < f.Volts.To+near {
			return true
		}
	}
	return false
}

// upToRail leaves out the visits that follow one at a rail and are at it too:
// there the reading can go no further.
func (w *work) upToRail(level []float64) []float64 {
	at := func(x float64) int {
		switch {
		case x < 0.01*w.ref:
			return -1
		case x > 0.99*w.ref:
			return 1
		}
		return 0
	}
	n := len(level)
	for n > 1 && at(level[n-1]) != 0 && at(level[n-1]) == at(level[n-2]) {
		n--
	}
	return level[:n]
}

// toRest leaves out the visits at the end that lie where the one before them
// lies, to within the error of a visit: there the drift has come to rest.
func toRest(level []float64, err float64) []float64 {
	n := len(level)
	for n > 1 && math.Abs(level[n-1]-level[n-2]) < err {
		n--
	}
	return level[:n]
}

// sameWay gives the smallest step and the whole way of three visits or more
// that each lie beyond the one before, else zero.
func sameWay(level []float64) (step, whole float64) {
	if len(level) < 3 {
		return 0, 0
	}
	step = math.Inf(1)
	for i := 1; i < len(level); i++ {
		if (level[i]-level[i-1])*(level[1]-level[0]) <= 0 {
			return 0, 0
		}
		step = math.Min(step, math.Abs(level[i]-level[i-1]))
	}
	return step, math.Abs(level[len(level)-1] - level[0])
}

// comesBack is how far from one visit to the next an end's level moves: the
// median, twice the only difference of two visits, infinite where one visit
// does not tell.
func (w *work) comesBack(e *endSeries) float64 {
	var d []float64
	for i := 1; i < len(e.level); i++ {
		d = append(d, math.Abs(e.level[i]-e.level[i-1]))
	}
	switch len(d) {
	case 0:
		return math.Inf(1)
	case 1:
		return 2 * d[0]
	}
	return medianOf(d)
}

// findStep looks for a single lasting change of an end level.
func (w *work) findStep(ends [2]endSeries) {
	if w.offsetThatComesAndGoes() > 0 {
		return // the same at the other stop, and there and back
	}
	for d, name := range []string{"low end", "high end"} {
		e := &ends[d]
		n := len(e.level)
		if n < 4 {
			continue
		}
		best, at := 0.0, 0
		for k := 2; k <= n-2; k++ {
			if j := math.Abs(medianOf(e.level[k:]) - medianOf(e.level[:k])); j > best {
				best, at = j, k
			}
		}
		if at == 0 {
			continue
		}
		a, b := e.level[:at], e.level[at:]
		la, ha := extremes(a)
		lb, hb := extremes(b)
		within := math.Max(ha-la, hb-lb)
		if (lb > ha || la > hb) && best > math.Max(0.015*w.span.Width(), 4*within+2*w.noise+w.quantum) {
			sign := 1.0
			if lb < ha {
				sign = -1
			}
			f := Finding{Kind: SpanDrift, Form: name + ", " + inOneStep, Volts: w.span, Event: "drift",
				Time: Interval{e.at[at-1], e.at[at]}, Seen: n, Passes: n, Tie: TiedToTime,
				// All arrangements that split this cleanly into two levels.
				TieP:     math.Min(1, 2/math.Exp(logChoose(n, at))),
				Strength: math.Min(1, best/(0.03*w.span.Width())),
				Measures: []Measure{{EndMeasure(name, "step"), sign * best, w.unit()}},
			}
			// A sensor wanders; a stop that comes nearer at one moment and stays
			// there has something in front of it. A stop further out is no
			// sensor's doing either.
			inward := (sign < 0) == (d == 1)
			switch dir := Direction(2*d - 1); {
			case inward && !w.covered(Jam, dir) && (f.TieP < 0.2 || best > 10*within):
				f.Kind, f.Form, f.Direction = Jam, jamStopLost, dir
				f.Event = fmt.Sprintf("stall %s", dir)
				f.Volts = Interval{math.Min(lb, hb), math.Max(lb, hb)}
				f.Measures = append(f.Measures, Measure{MeasureLevel, medianOf(b), w.unit()})
				w.found = append(w.found, f)
			case !inward && f.TieP < 0.2:
				w.dropDriftJams(f)
				w.found = append(w.found, f)
			}
		}
	}
}

func logChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}

// dropDriftJams removes jams that are the drifting end seen as several stops.
func (w *work) dropDriftJams(d Finding) {
	out := w.found[:0]
	for _, f := range w.found {
		if f.Kind == Jam && d.Kind == SpanDrift {
			near := 0.3 * w.span.Width()
			if f.Direction == Up && w.span.To-f.Volts.From < near || f.Direction == Down && f.Volts.To-w.span.From < near {
				continue
			}
		}
		out = append(out, f)
	}
	w.found = out
}
