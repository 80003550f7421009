package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// A motor that heats loses at least heatingLoss of its speed over
// heatingPasses sweeps or more, and heatingLossFew where they are few; see
// findHeating.
const heatingPasses, heatingLoss, heatingLossFew = 5, 0.07, 0.1

// findHeating reports a motor that gets slower the longer it runs: by the trend of
// many sweeps, or by a large loss in few.
func (w *work) findHeating() {
	if !w.findSlowing() {
		w.findFade()
	}
}

// findSlowing tests whether the sweeps get slower one after the other while
// the drive stays the same, by the seasonal Kendall test with the two
// directions for seasons, size by Theil-Sen. It tells whether they do.
func (w *work) findSlowing() bool {
	p := w.paces()
	rel := w.level(p)
	if len(rel) < heatingPasses {
		return false
	}
	x := make([]float64, len(p))
	for i := range p {
		x[i] = p[i].at
	}
	// Each direction against itself, so that door weight does not blur it.
	var by [2][]float64
	for i, q := range p {
		d := side(w.moves[q.move].Direction)
		by[d] = append(by[d], rel[i])
	}
	mk := stats.SeasonalKendall(by[0], by[1])
	ts := stats.TheilSen(x, rel, 0.95)
	// Over the speed it began with, by the line.
	change := ts.Slope * (x[len(x)-1] - x[0]) / math.Max(ts.Intercept+ts.Slope*x[0], 1e-9)
	var res []float64
	for i := range rel {
		res = append(res, math.Abs(rel[i]-ts.Intercept-ts.Slope*x[i]))
	}
	scatter := stats.MADScale * medianOf(res)
	// Copper warms by 0.39 % per kelvin: a good motor that warms by 10 K in a
	// capture loses a few percent near its running load. Seven percent is
	// beyond that, and the trend must stand clear of the scatter about it.
	// A sensor whose scale shrinks makes an even shaft look slower.
	for _, f := range w.found {
		if f.Kind == SpanDrift {
			c, ok := f.Measure(MeasureSpanChange)
			if !ok {
				return false
			}
			change += math.Abs(c) / w.span.Width()
		}
	}
	change += w.slowedByVolts(p)
	// Three sweeps of one direction and two of the other all in order have the
	// one-sided chance of 8 %: few, so the change must be the larger.
	steady := falls(mk, change < -heatingLossFew)
	// One move that differs among many does not undo a trend that chance makes
	// once in a hundred times.
	if !steady || mk.S >= 0 || change > -heatingLoss || -change < 3*scatter && mk.Tau > -0.99 && mk.P > 0.01 {
		return false
	}
	f := Finding{
		Kind: Heating, Seen: len(rel), Passes: len(rel), TieP: mk.P, Tie: TiedToTime,
		Time: Interval{x[0], x[len(x)-1]}, Volts: w.span,
		Strength: (1 - mk.P) * math.Min(1, -change/0.1), Event: "slower",
		Measures: []Measure{{changeOfSpeed, 100 * change, "%"}, {"per sweep", 100 * change / float64(len(rel)-1), "%"}, {"seasonal Kendall p", mk.P, ""}},
	}
	if !w.driveKnown() && w.tr.Supply == nil {
		f.Form = voltsUnseen
	}
	w.timePasses(&f)
	w.found = append(w.found, f)
	return true
}

// falls tells whether passes fall one after the other: surely, or in order but for a pair
// where they are few and the change is large.
func falls(mk stats.Monotone, large bool) bool {
	return mk.P <= 0.05 || large && mk.P <= 0.17 && mk.Tau <= -0.79
}

// voltsUnseen is the form of a [Heating] in a capture that does not tell the motor's volts.
const voltsUnseen = "volts unseen"

// What a 12 V lead battery gives while it is charged, and when it is empty under load, V
// (common practice, no source).
const chargedVolts, emptyVolts = 14.4, 10.5

// slowedByVolts is the share of its speed that a sound motor may lose from the first pass
// to the last because its volts fall, beyond what paces have taken out; 0 where they do
// not fall for certain or are not logged. A motor's speed goes with its volts less those
// that its load takes (the torque-speed line of any brushed motor), and no maker loads
// one beyond half of them, the point of its greatest power: so where the volts fall by the
// share q the speed falls by up to 2 q, and the speed per volt by up to q/(1-q).
func (w *work) slowedByVolts(p []pace) float64 {
	var at, volts []float64
	for _, x := range p {
		m := &w.moves[x.move]
		v, n := w.meanVolts(m.first, m.last)
		if !w.driveKnown() {
			v, n = w.meanSupply(m.first, m.last)
		}
		if n > 0 && v > 0 {
			at, volts = append(at, x.at), append(volts, v)
		}
	}
	if len(volts) < heatingPasses {
		return 0
	}
	ts := stats.TheilSen(at, volts, 0.95)
	first := ts.Intercept + ts.Slope*at[0]
	q := -ts.Slope * (at[len(at)-1] - at[0]) / first
	// Volts that fall as surely as the speed does are no worse known than that.
	mk := stats.SeasonalKendall(volts)
	if !(first > 0) || !(q > 0) || !(ts.High < 0) && !(mk.S < 0 && falls(mk, q > heatingLossFew)) {
		return 0
	}
	if q > 1-emptyVolts/chargedVolts {
		return 0 // no battery alone does that
	}
	if w.driveKnown() {
		return q / (1 - q)
	}
	return 2 * q
}

// meanSupply is the mean of the supply in the rows [from, to), V, and how many of them
// tell it.
func (w *work) meanSupply(from, to int) (mean float64, n int) {
	s := w.tr.Supply
	if s == nil || s.Unit != "V" {
		return 0, 0
	}
	for _, v := range s.Mean[max(0, from):min(to, len(s.Mean))] {
		if x := float64(v); !math.IsNaN(x) {
			mean += x
			n++
		}
	}
	return mean / math.Max(float64(n), 1), n
}

// Measures of what a reader can time in the curve, see timePasses.
const (
	firstPassTook, lastPassTook = "first pass that way", "last pass that way"
	firstPassBack, lastPassBack = "first pass the other way", "last pass the other way"
	timedFrom, timedTo          = "timed from", "timed to"
)

// timePasses says of a motor that gets slower what can be timed in the curve: how long the
// first and the last move of one direction took between the same two readings, at the
// same drive. The direction with more time between these moves comes first; the other one is
// told beside it, so that nobody who times that one finds another figure.
func (w *work) timePasses(f *Finding) {
	const sameDrive = 0.05
	edge := w.span.Width() / paceCells // where starts and stops bend the speed
	longest := 0.0
	var told []Measure
	for _, d := range []Direction{Down, Up} {
		from, to := w.span.From+edge, w.span.To-edge
		if d == Down {
			from, to = to, from
		}
		var first, last *timedPass
		for k := range w.moves {
			if w.moves[k].Direction != d {
				continue
			}
			if p, ok := w.timeBetween(&w.moves[k], from, to); ok {
				if first == nil {
					first = &p
				}
				last = &p
			}
		}
		if first == nil || last.at <= first.at || math.Abs(last.drive-first.drive) > sameDrive*first.drive {
			continue
		}
		// What these two show less of than all of them together is no example of it.
		if last.took < first.took/(1+f.value(changeOfSpeed)/200) {
			continue
		}
		if last.at-first.at <= longest {
			told = append(told, Measure{firstPassBack, first.took, "s"}, Measure{lastPassBack, last.took, "s"})
			continue
		}
		longest = last.at - first.at
		for i := range told { // the direction that came first is the other one
			switch told[i].Name {
			case firstPassTook:
				told[i].Name = firstPassBack
			case lastPassTook:
				told[i].Name = lastPassBack
			}
		}
		told = slices.DeleteFunc(told, func(m Measure) bool { return m.Name == timedFrom || m.Name == timedTo })
		told = append(told, Measure{firstPassTook, first.took, "s"}, Measure{lastPassTook, last.took, "s"}, Measure{timedFrom, from, w.tr.Feedback.Unit}, Measure{timedTo, to, w.tr.Feedback.Unit})
	}
	f.Measures = append(f.Measures, told...)
}

// timedPass is how long a move took between two readings, when it left the first of them,
// and its mean drive.
type timedPass struct{ at, took, drive float64 }

// timeBetween times a move from one reading to another; false where it does not pass both.
func (w *work) timeBetween(m *Move, from, to float64) (timedPass, bool) {
	d := float64(m.Direction)
	i := m.first
	if i >= m.last || d*(w.smooth[i]-from) > 0 {
		return timedPass{}, false
	}
	for i < m.last && d*(w.smooth[i]-from) < 0 {
		i++
	}
	a, drive := i, 0.0
	for i < m.last && d*(w.smooth[i]-to) < 0 {
		drive += math.Abs(w.d.mean[i])
		i++
	}
	if i >= m.last || i == a {
		return timedPass{}, false
	}
	return timedPass{w.t[a], w.t[i] - w.t[a], drive / float64(i-a)}, true
}

// joinTired joins to a motor that gets slower the stalls that come late, at places
// that it passed before: it tires and no longer carries its load over them. What
// falls into a door's way does not slow the rest of it.
func (w *work) joinTired() {
	for i := range w.found {
		h := &w.found[i]
		if c, _ := h.Measure(changeOfSpeed); h.Kind != Heating || c > -20 {
			continue
		}
		for k := range w.found {
			f := &w.found[k]
			if f.Kind != Jam && f.Kind != Pauses || len(f.Places) == 0 {
				continue
			}
			late := true
			for _, o := range f.Places {
				late = late && o.Time.From > h.Time.Mid() && w.wentPast(o)
			}
			if late {
				f.Event, f.Strength = h.Event, 0.3*f.Strength
			}
		}
	}
}

// wentPast tells whether the shaft was driven past a place in the same direction
// before.
func (w *work) wentPast(o Occurrence) bool {
	near := math.Max(w.tol, 0.03*w.span.Width())
	for k := range w.moves {
		m := &w.moves[k]
		if m.Time.To > o.Time.From {
			break
		}
		if m.Direction != o.Direction {
			continue
		}
		if lo, hi := w.tracked(m); lo < o.Volts.From-near && hi > o.Volts.To+near {
			return true
		}
	}
	return false
}
