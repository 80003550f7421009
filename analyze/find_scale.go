package analyze

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"threewire/analyze/stats"
)

// byTravelTime is the form of a drift that shows by strokes of the same duration
// over readings that differ.
const byTravelTime = "scale, by the travel time"

// strokeTimes is how the duration of the strokes from one stop into the other goes
// with what they read: a shaft that is stopped early arrives early, in the same
// proportion, and a scale that shrinks leaves the time as it is. The logarithm of
// the time is fitted against that of the travel: the slope is 1 of a travel that
// changes, 0 of a scale.
type strokeTimes struct {
	n      int
	spread float64 // range of the logarithm of the readings
	uneven float64 // largest departure of the logarithm of a time from its mean
	slope  float64
	travel float64 // p-value of it being a travel's
	scale  float64 // p-value of it being a scale's
	when   Interval
	off    float64 // relative deviation by which even strokes differ in time, as logged
}

// evenStrokes is the relative deviation by which even strokes of one actuator
// differ in time.
const evenStrokes = 0.02

// strokeTimes fits the strokes; ok is false where no two of one direction differ.
func (w *work) strokeTimes() (s strokeTimes, ok bool) {
	var x, y []float64
	s.when, s.off = noInterval(), evenStrokes
	stands := w.standsByMove()
	for _, dir := range []Direction{Down, Up} {
		var l, t []float64
		for k := 1; k < len(w.moves); k++ {
			if w.moves[k].Direction != dir {
				continue
			}
			c, ok := w.strokeOf(stands, k)
			if !ok {
				continue
			}
			volts := c.DriveMean
			if !w.driveKnown() || volts <= 0 {
				volts = 1
			}
			l, t = append(l, math.Log(c.High-c.Low)), append(t, math.Log(c.Transit*volts))
			s.off = math.Max(s.off, w.tr.Step/c.Transit) // its ends are known to half a row each or worse
			s.when = s.when.widen(c.Time.From).widen(c.Time.To)
		}
		if len(l) < 2 {
			continue
		}
		lo, hi := extremes(l)
		s.spread = math.Max(s.spread, hi-lo)
		ml, mt := mean(l), mean(t)
		for i := range l {
			x, y = append(x, l[i]-ml), append(y, t[i]-mt)
			s.uneven = math.Max(s.uneven, math.Abs(t[i]-mt))
		}
	}
	// Strokes that take the same time to within what even ones differ by do not tell
	// their deviation better than that is known: more of them make it no less sure.
	if s.n = len(x); s.n < 4 || s.uneven < s.off {
		return s.few(x, y)
	}
	line, ok := stats.FitLine(x, y)
	if !ok {
		return s, false
	}
	rest := make([]float64, len(x))
	for i := range x {
		rest[i] = y[i] - x[i]
	}
	against, ok := stats.FitLine(x, rest)
	if !ok {
		return s, false
	}
	s.slope, s.scale, s.travel = line.Slope, line.P(s.off), against.P(s.off)
	return s, true
}

// ranIntoStop tells whether move k ended in a stall at which the shaft arrived in that
// direction, by this drive or by one before. A drive that moved nothing since the capture
// began, as the nudges with which a control begins, shows no stop: the shaft may stand
// anywhere.
func (w *work) ranIntoStop(k int, dir Direction) bool {
	if w.moves[k].Direction != dir || w.moves[k].Stalled <= 0 {
		return false
	}
	for k > 0 && w.moves[k].Moving == 0 {
		k--
	}
	return w.moves[k].Moving > 0 && w.moves[k].Direction == dir
}

// few fits strokes whose own scatter tells nothing, two or three or all of the same
// time: the deviation is that of even strokes, or of the rows.
func (s strokeTimes) few(x, y []float64) (strokeTimes, bool) {
	var xx, xy float64
	for i := range x {
		xx += x[i] * x[i]
		xy += x[i] * y[i]
	}
	if xx == 0 {
		return s, false
	}
	s.slope = xy / xx
	deviation := s.off / math.Sqrt(xx)
	p := func(off float64) float64 { return 2 * distuv.UnitNormal.Survival(math.Abs(off)/deviation) }
	s.scale, s.travel = p(s.slope), p(1-s.slope)
	return s, true
}

// followsTravel tells whether the time goes with the travel and could not do so by
// chance.
func (s *strokeTimes) followsTravel() bool {
	return s.spread > 0.05 && s.slope > 0.6 && s.scale < 0.01
}

// findScale tells a sensor whose scale changes by strokes that take as long as
// before while they read as less or more. A travel that changes does not do that,
// nor a motor that slows.
func (w *work) findScale() {
	const (
		least  = 0.1  // relative range of the readings; less is taken by the test of the ends' order
		flat   = 0.35 // a slope that is still a scale's
		surely = 0.01 // of the slope not being a travel's
		even   = 3 * evenStrokes
		// Of a wave at rest two ends are off by 1.4 times its deviation each at most, and
		// two strokes by twice that.
		wave = 6.0
	)
	known := false
	for i := range w.found {
		switch f := &w.found[i]; f.Kind {
		case Dropouts, AtRail, LastingLeap, RefLoss, DriveShift:
			if f.Strength > 0.5 {
				return // what leaps says nothing of a scale
			}
		case LoadLost:
			if f.Form != "" {
				return // faster and further from one moment on: as long as before by chance
			}
		case SpanDrift:
			known = known || f.Strength > 0.5
		}
	}
	s, ok := w.strokeTimes()
	if ok && s.spread > 2*evenStrokes && math.Abs(s.slope) <= flat && s.travel < 0.1 {
		// Not enough for a scale, but a travel that ends early would take less time.
		for i := range w.found {
			if f := &w.found[i]; f.Kind == Jam && f.Seen == 1 && f.Time.Mid() > s.when.Mid() {
				f.Strength *= 0.5
			}
		}
	}
	if !ok || s.spread < math.Max(least, wave*w.noise/w.span.Width()) || s.uneven > even || math.Abs(s.slope) > flat || s.travel > surely {
		if !known {
			w.findScaleByPace()
			w.findScaleByRests()
		}
		return
	}
	f := Finding{Kind: SpanDrift, Form: byTravelTime, Time: s.when, Volts: w.span, Tie: TiedToTime, TieP: s.travel, Event: "drift", Strength: 1,
		Seen: s.n, Passes: s.n, Measures: []Measure{
			{MeasureChangeOfSpan, 100 * (math.Exp(s.spread) - 1), "%"},
			{"change of time over change of travel", s.slope, ""},
		}}
	w.overrule(f.Event, Heating, Jam, SpanShift, SlowZone, WeakDrive, TravelChange, EndLoss, Hunting)
	if !known {
		w.overrule(f.Event, SpanDrift)
		w.found = append(w.found, f)
	}
}
