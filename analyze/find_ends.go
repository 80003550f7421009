package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
)

// leave is how long the feedback stayed put when the drive reversed after a
// stall: slack in the gears if short, a shaft that had moved on unseen if
// long.
type leave struct {
	stall   stall
	delay   float64 // s from reversal to first motion
	rate    float64 // V/s of the reverse drive
	present bool
}

// leaves pairs every stall with the move that leaves it.
func (w *work) leaves(stalls []stall) []leave {
	out := make([]leave, len(stalls))
	for i, s := range stalls {
		out[i].stall = s
		k := s.move + 1
		if k >= len(w.moves) || w.moves[k].Direction != -w.moves[s.move].Direction {
			continue
		}
		m := &w.moves[k]
		if m.Moving == 0 {
			continue
		}
		out[i].present = true
		out[i].rate = w.rate[side(m.Direction)] * math.Max(math.Abs(m.DriveMean)/w.d.amp, 0.1)
		for _, g := range m.segs {
			if g.state == track && g.last-g.first >= min(3, w.window) {
				out[i].delay = w.t[g.first] - m.Time.From
				break
			}
		}
	}
	return out
}

// usualDelay is the start delay of the capture's own reversals: the lower
// quartile, so that a fault at one end does not set the standard.
func (w *work) usualDelay() float64 {
	var d []float64
	for k := range w.moves {
		if m := &w.moves[k]; m.Moving > 0 && m.Travel() > w.tol {
			d = append(d, m.Delay)
		}
	}
	if len(d) == 0 {
		return 0
	}
	return quantileOf(d, 0.25)
}

// findEnds looks at the stalls: end of track lost, and jams.
func (w *work) findEnds(stalls []stall) {
	lv := w.leaves(stalls)
	usual := w.usualDelay()
	hidden := w.findEndLoss(lv, usual)
	w.findJams(stalls, hidden)
	w.findNoStart(stalls, hidden)
}

// findNoStart reports drives that moved nothing although they set out from a
// place that other drives of the same direction left or passed: the motor did
// not start. At a place where a moving shaft was stopped they belong to that
// stop.
func (w *work) findNoStart(stalls []stall, hidden []float64) {
	near := math.Max(1.5*w.tol, 0.025*w.span.Width())
	// A slow start (cold grease, slack) is no failure to start.
	var delays []float64
	for k := range w.moves {
		if m := &w.moves[k]; m.Moving > 0 {
			delays = append(delays, m.Delay)
		}
	}
	if len(delays) == 0 {
		return
	}
	patience := 0.2 + 2*quantileOf(delays, 0.9)
	var idle []stall
	for i, s := range stalls {
		if s.arrived || hidden[i] > 0 || s.seconds < patience {
			continue
		}
		dir := w.moves[s.move].Direction
		at := false
		for j, o := range stalls {
			if o.arrived && w.moves[o.move].Direction == dir && math.Abs(o.level-s.level) < near || hidden[j] > 0 && math.Abs(o.level-s.level) < near {
				at = true
				break
			}
		}
		passed := false
		for k := range w.moves {
			if m := &w.moves[k]; m.Direction == dir && m.Moving > 0 {
				lo, hi := w.tracked(m)
				if dir == Up && hi > s.level+near && lo < s.level+near || dir == Down && lo < s.level-near && hi > s.level-near {
					passed = true
					break
				}
			}
		}
		if !at && passed {
			idle = append(idle, s)
		}
	}
	if len(idle) == 0 {
		return
	}
	f := Finding{Kind: Pauses, Form: "does not start", Seen: len(idle), Passes: len(idle), Tie: TieUnknown, TieP: 1, Event: "no start"}
	f.Time = Interval{math.Inf(1), math.Inf(-1)}
	f.Volts = f.Time
	longest := 0.0
	for _, s := range idle {
		o := Occurrence{Interval{s.at, s.at + s.seconds}, Interval{s.level, s.level}, w.moves[s.move].Direction}
		f.Places = append(f.Places, o)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(s.level)
		longest = math.Max(longest, s.seconds)
	}
	f.Strength = 1 - math.Exp(-float64(len(idle)))
	f.Measures = []Measure{{"longest stand", longest, "s"}, {"stands", float64(len(idle)), ""}}
	w.found = append(w.found, f)
}

// findEndLoss reports an end of travel at which the track stops telling
// before the shaft stops: after the reversal the reading stays put for as
// long as the shaft needs to come back. It returns for each stall the travel,
// in V, hidden behind it.
func (w *work) findEndLoss(lv []leave, usual float64) []float64 {
	hidden := make([]float64, len(lv))
	byEnd := [2][]int{}
	for i, l := range lv {
		if !l.present {
			continue
		}
		// A slow start (cold grease) delays every move: only the excess counts,
		// and no more than the stall could have hidden.
		extra := l.delay - usual
		if extra <= 0 {
			continue
		}
		h := math.Min(extra, l.stall.seconds) * l.rate
		if extra > math.Max(0.12, 3*w.tr.Step) && h > math.Max(2*w.tol, 0.02*w.span.Width()) {
			hidden[i] = h
			d := w.moves[l.stall.move].Direction
			byEnd[side(d)] = append(byEnd[side(d)], i)
		}
	}
	for sd, idx := range byEnd {
		if len(idx) == 0 {
			continue
		}
		dir := Direction(2*sd - 1)
		n := 0
		var h, lev []float64
		f := Finding{Kind: EndLoss, Direction: dir, Tie: TiedToPosition, TieP: 1}
		f.Time = Interval{math.Inf(1), math.Inf(-1)}
		for _, l := range lv {
			if l.present && w.moves[l.stall.move].Direction == dir {
				n++
			}
		}
		for _, i := range idx {
			s := lv[i].stall
			h = append(h, hidden[i])
			lev = append(lev, s.level)
			o := Occurrence{Interval{s.at, s.at + s.seconds + lv[i].delay}, Interval{s.level, s.level}, dir}
			f.Places = append(f.Places, o)
			f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		}
		// Delays at the other end are the control: if they are as long, it is
		// the start of the motor and not the track.
		if len(byEnd[1-sd]) > 0 && len(idx) < 3 {
			continue
		}
		if 2*len(idx) < n {
			continue
		}
		f.Seen, f.Passes = len(idx), n
		m := medianOf(lev)
		f.Volts = Interval{m - 0.01*w.span.Width(), m + 0.01*w.span.Width()}
		f.Form = w.huntPlace(f)
		f.Strength = 1 - math.Exp(-float64(len(idx))*0.7)
		// One arrival with little hidden behind it may be slack in the gears.
		if len(idx) == 1 {
			f.Strength *= math.Min(1, medianOf(h)/(0.1*w.span.Width()))
		}
		f.Event = fmt.Sprintf("end %s", dir)
		f.Measures = []Measure{{"hidden travel", medianOf(h), w.unit()}, {"usual start delay", usual, "s"}}
		w.found = append(w.found, f)
	}
	return hidden
}

// findJams reports stalls short of a stop that was reached at another time.
func (w *work) findJams(stalls []stall, hidden []float64) {
	span := w.span.Width()
	if span <= 0 {
		return
	}
	short := map[Direction][]stall{}
	for i, s := range stalls {
		if hidden[i] > 0 || !s.arrived {
			continue
		}
		dir := w.moves[s.move].Direction
		gap := w.span.To - s.level
		if dir == Down {
			gap = s.level - w.span.From
		}
		if gap < math.Max(0.04*span, 3*w.tol) {
			continue
		}
		// A drive that comes no further than the end it set out from did not
		// leave the stop; nothing stands in its way on the travel.
		if span-gap < math.Max(0.05*span, 3*w.tol) {
			continue
		}
		short[dir] = append(short[dir], s)
	}
	for _, dir := range []Direction{Down, Up} {
		s := short[dir]
		if len(s) == 0 {
			continue
		}
		var lev []float64
		f := Finding{Kind: Jam, Direction: dir, Tie: TieUnknown, TieP: 1}
		f.Time = Interval{math.Inf(1), math.Inf(-1)}
		f.Volts = f.Time
		seconds := 0.0
		for _, x := range s {
			lev = append(lev, x.level)
			seconds += x.seconds
			f.Volts = f.Volts.widen(x.level)
			f.Time = f.Time.widen(x.at).widen(x.at + x.seconds)
			f.Places = append(f.Places, Occurrence{Interval{x.at, x.at + x.seconds}, Interval{x.level, x.level}, dir})
		}
		level := medianOf(lev)
		// Later drives that start at the stall and move nothing are tries to
		// get past it.
		near := math.Max(1.5*w.tol, 0.025*span)
		retries := 0
		for i, x := range stalls {
			if !x.arrived && hidden[i] == 0 && w.moves[x.move].Direction == dir && math.Abs(x.level-level) < near {
				retries++
				f.Places = append(f.Places, Occurrence{Interval{x.at, x.at + x.seconds}, Interval{x.level, x.level}, dir})
				f.Time = f.Time.widen(x.at).widen(x.at + x.seconds)
				seconds += x.seconds
			}
		}
		f.Seen = len(s) + retries
		tries := 0 // drives in this direction that set out from before the place
		for k := range w.moves {
			m := &w.moves[k]
			if m.Direction == dir && float64(dir)*(level-m.Start) > w.tol {
				lo, hi := w.tracked(m)
				if dir == Up && hi > level-0.03*span || dir == Down && lo < level+0.03*span || m.Stalled > w.lim.StallSeconds {
					tries++
				}
			}
		}
		f.Passes = max(tries, len(s))
		spread := quantileOf(lev, 0.9) - quantileOf(lev, 0.1)
		f.Measures = []Measure{
			{"stalls", float64(len(s)), ""}, {"stalled in all", seconds, "s"},
			{"level", level, w.unit()}, {"spread of the stall level", spread, w.unit()},
		}
		f.Event = fmt.Sprintf("stall %s", dir)
		f.Strength = 1 - math.Exp(-float64(len(s)))
		if len(s) >= 2 {
			share := math.Min(1, (spread+w.resolution())/span)
			f.TieP = math.Pow(share, float64(len(s)-1))
			if f.TieP < w.lim.Significance || share < 0.1 {
				f.Tie = TiedToPosition
				f.Form = "at one place"
			} else {
				f.Form = "at scattered places"
			}
		} else if retries >= 2 {
			f.Form = "once, and not past it"
			f.Strength = 1 - math.Exp(-float64(1+retries))
		} else {
			f.Form = "once"
			// A motor that tires does not run back as if nothing were.
			if s[0].seconds > 0.5 && w.ranBack(s[0]) {
				f.Strength = 0.8
				f.Measures = append(f.Measures, Measure{"ran back freely", 1, ""})
			}
		}
		f.Volts = Interval{quantileOf(lev, 0.1), quantileOf(lev, 0.9)}
		if w.turnsUnseen(s, stalls) {
			f.Kind, f.Form = GearSlip, "motor turns"
		}
		w.found = append(w.found, f)
	}
	w.findShortStop()
}

// turnsUnseen tells whether the current says that the motor turned during the
// given stands: it stays well below the current of the stalls at the stops. A
// blocked motor draws the same current wherever it is blocked; brushes and
// heat change it by a tenth or two.
func (w *work) turnsUnseen(stands, all []stall) bool {
	c := w.tr.Current
	if c == nil {
		return false
	}
	level := func(s []stall, skip map[int]bool) float64 {
		var x []float64
		for _, st := range s {
			if skip[st.move] || st.seconds < 3*w.lim.StallSeconds {
				continue
			}
			a, b := indexAt(w.t, st.at+w.lim.StallSeconds), indexAt(w.t, st.at+st.seconds-w.lim.StallSeconds)
			for _, v := range c.Mean[min(a, b):max(a, b)] {
				if f := math.Abs(float64(v)); !math.IsNaN(f) {
					x = append(x, f)
				}
			}
		}
		if len(x) < 10 {
			return math.NaN()
		}
		return medianOf(x)
	}
	here := map[int]bool{}
	for _, s := range stands {
		here[s.move] = true
	}
	stand, stop := level(stands, nil), level(all, here)
	return stand < 0.7*stop // false for NaN
}

// ranBack tells whether the move after a stall left the place at once and
// travelled at least a tenth of the span.
func (w *work) ranBack(s stall) bool {
	k := s.move + 1
	if k >= len(w.moves) || w.moves[k].Direction != -w.moves[s.move].Direction {
		return false
	}
	m := &w.moves[k]
	lo, hi := w.tracked(m)
	return hi-lo > 0.1*w.span.Width() && m.Delay < 0.3
}

// Common practice, no source: a healthy wiper ends its travel in the outer
// quarter of its supply. A stop further in is either a short-travel actuator
// or an obstacle.
const outerQuarter = 0.25

// findShortStop looks at the outermost stop of each side. It is suspect when
// it lies far inside the supply and is driven into again and again while the
// other side is not, or when a profile says where the stop should be.
func (w *work) findShortStop() {
	count := map[Direction]*Stop{}
	for i := range w.stops {
		if s := &w.stops[i]; s.Extreme {
			count[s.Direction] = s
		}
	}
	for _, dir := range []Direction{Down, Up} {
		s := count[dir]
		if s == nil || w.covered(Jam, dir) {
			continue
		}
		inside := s.Level / w.ref
		if dir == Up {
			inside = 1 - inside
		}
		other := 0
		if o := count[-dir]; o != nil {
			other = o.Stalls
		}
		f := Finding{Kind: Jam, Direction: dir, Tie: TiedToPosition, Seen: s.Stalls, Passes: s.Stalls,
			Volts: Interval{s.Level - s.Spread/2, s.Level + s.Spread/2}, Event: fmt.Sprintf("stall %s", dir), TieP: 1}
		f.Time = Interval{s.Times[0], s.Times[len(s.Times)-1]}
		for _, at := range s.Times {
			f.Places = append(f.Places, Occurrence{Interval{at, at}, Interval{s.Level, s.Level}, dir})
		}
		f.Measures = []Measure{{"stalls", float64(s.Stalls), ""}, {"stalled in all", s.Seconds, "s"}, {"level", s.Level, w.unit()}}
		if p := w.opt.Profile; p != nil && p.High > p.Low {
			gap := p.High - s.Level
			if dir == Down {
				gap = s.Level - p.Low
			}
			if gap > 0.06*(p.High-p.Low) {
				f.Form, f.Strength = "short of the profile's stop", math.Min(1, gap/(0.1*(p.High-p.Low)))
				w.found = append(w.found, f)
			}
			continue
		}
		// The outermost stall is a stop only if the travel ends there, and how
		// far inside the supply it lies is known only if the supply is.
		end := w.span.To - s.Level
		if dir == Down {
			end = s.Level - w.span.From
		}
		if !w.refSure || end > 0.06*w.span.Width()+w.tol {
			continue
		}
		if free := w.settledEnds(-dir); inside > 0.15 && inside <= outerQuarter && s.Stalls >= 3 && other == 0 && free >= 3 {
			f.Form = "driven into again and again, while the other end is reached without a stall"
			f.Strength = math.Min(0.9, 1-math.Exp(-float64(s.Stalls)/3))
			w.found = append(w.found, f)
			continue
		}
		if inside > outerQuarter && s.Stalls >= 3 && s.Stalls >= 2*other+1 {
			f.Form = "driven into again and again, far inside the supply"
			f.Strength = math.Min(0.9, 1-math.Exp(-float64(s.Stalls)/3))
			w.found = append(w.found, f)
		}
	}
}

// settledEnds counts the long moves of a direction that ended without a stall
// in the outer fifth of the travel: the controller was content there.
func (w *work) settledEnds(dir Direction) int {
	n := 0
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir || m.Stalled > 0 || m.Travel() < 0.3*w.span.Width() {
			continue
		}
		if x := (m.End - w.span.From) / w.span.Width(); dir == Up && x > 0.8 || dir == Down && x < 0.2 {
			n++
		}
	}
	return n
}

// covered tells whether a finding of the kind and direction stands already.
func (w *work) covered(k Kind, d Direction) bool {
	for _, f := range w.found {
		if f.Kind == k && (f.Direction == d || f.Direction == None) {
			return true
		}
	}
	return false
}

// endSeries are the stall levels at the ends over the capture, one per
// arrival from the other side.
type endSeries struct {
	x, at, level, transit []float64
}

// endVisits lists the level of every stall in the outer quarter of the travel,
// whether the shaft came from afar or was only pushed against the stop again.
func (w *work) endVisits() (ends [2]endSeries) {
	for _, s := range w.stallsOf() {
		dir := w.moves[s.move].Direction
		depth := w.span.To - s.level
		if dir == Down {
			depth = s.level - w.span.From
		}
		if depth > 0.25*w.span.Width() || s.seconds < 2*w.lim.StallSeconds {
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

// findDrift tests whether the ends of the feedback span wander from sweep to
// sweep, by Mann-Kendall with the Theil-Sen slope, and whether the transit
// time changes with them.
func (w *work) findDrift() {
	ends := w.endVisits()
	// change is the total drift of one end in V with its p-value.
	type trend struct {
		change, slope, p, lo, hi float64
		n                        int
		real                     bool
	}
	var tr [2]trend
	for d := range ends {
		e := &ends[d]
		if len(e.level) < 3 {
			continue
		}
		mk := stats.MannKendall(e.level)
		ts := stats.TheilSen(e.x, e.level, 0.95)
		t := trend{change: ts.Slope * (e.x[len(e.x)-1] - e.x[0]), slope: ts.Slope, p: mk.P, lo: ts.Low, hi: ts.High, n: len(e.level)}
		// Scatter about the trend: the repeatability of the stop itself.
		var res []float64
		for i := range e.x {
			res = append(res, math.Abs(e.level[i]-ts.Intercept-ts.Slope*e.x[i]))
		}
		scatter := 1.4826*medianOf(res) + w.noise/3 + w.quantum/2
		big := math.Abs(t.change) > math.Max(0.006*w.span.Width(), 5*scatter)
		steady := t.p < 0.05 || (math.Abs(mk.Tau) > 0.99 && math.Abs(t.change) > math.Max(0.02*w.span.Width(), 10*scatter))
		t.real = big && steady
		tr[d] = t
	}
	if !tr[0].real && !tr[1].real {
		w.findStep(ends)
		return
	}
	span := w.span.Width()
	f := Finding{Kind: SpanDrift, Volts: w.span, Tie: TiedToTime, TieP: 1, Event: "drift", Time: w.drivenTime()}
	for d, name := range []string{"low end", "high end"} {
		t := tr[d]
		if t.n < 3 {
			continue
		}
		f.Seen = max(f.Seen, t.n)
		f.Measures = append(f.Measures,
			Measure{name + " drift", t.change, w.unit()},
			Measure{name + " drift per sweep", t.slope, w.unit()},
			Measure{name + " drift per sweep, lower 95 %", t.lo, w.unit()},
			Measure{name + " drift per sweep, upper 95 %", t.hi, w.unit()},
			Measure{name + " p", t.p, ""})
		if t.real {
			f.TieP = math.Min(f.TieP, t.p)
		}
	}
	f.Passes = f.Seen
	switch {
	case tr[0].real && !tr[1].real:
		f.Form = "low end"
	case tr[1].real && !tr[0].real:
		f.Form = "high end"
	case tr[0].change*tr[1].change > 0 && math.Abs(tr[0].change-tr[1].change) < 0.3*math.Abs(tr[1].change+tr[0].change)/2:
		f.Form = "both ends alike"
	default:
		f.Form = "scale"
	}
	spanChange := tr[1].change - tr[0].change
	f.Measures = append(f.Measures, Measure{"span change", spanChange, w.unit()})
	// Does the transit time follow the span?
	var rel, share []float64
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
	dS := spanChange / span
	if len(rel) > 0 && math.Abs(dS) > 0.02 {
		dT := medianOf(rel)
		f.Measures = append(f.Measures, Measure{"transit time change", 100 * dT, "%"})
		share = append(share, dT/dS)
	}
	// Both ends scaled about zero volts is what a falling sensor supply does.
	if w.tr.Reference == nil && tr[0].n >= 3 && tr[1].n >= 3 {
		l, h := medianOf(ends[0].level), medianOf(ends[1].level)
		if l > 0.02*w.ref && tr[0].change != 0 && h > 0 {
			q := (tr[0].change / l) / (tr[1].change / h)
			if q > 0.6 && q < 1.6 {
				f.Form = "both ends in proportion"
			}
		}
	}
	f.Strength = math.Min(1, math.Max(math.Abs(tr[0].change), math.Abs(tr[1].change))/(0.02*span)) * (1 - f.TieP)
	if len(share) > 0 && share[0] > 0.6 && share[0] < 1.6 {
		f.Kind = TravelChange
	}
	w.dropDriftJams(f)
	w.found = append(w.found, f)
}

// findStep looks for a single lasting change of an end level.
func (w *work) findStep(ends [2]endSeries) {
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
			f := Finding{Kind: SpanDrift, Form: name + ", in one step", Volts: w.span, Event: "drift",
				Time: Interval{e.at[at-1], e.at[at]}, Seen: n, Passes: n, Tie: TiedToTime,
				// All arrangements that split this cleanly into two levels.
				TieP:     math.Min(1, 2/math.Exp(logChoose(n, at))),
				Strength: math.Min(1, best/(0.03*w.span.Width())),
				Measures: []Measure{{name + " step", sign * best, w.unit()}},
			}
			// A sensor wanders; a stop that comes nearer at one moment and stays
			// there has something in front of it. A stop further out is no
			// sensor's doing either.
			inward := (sign < 0) == (d == 1)
			switch dir := Direction(2*d - 1); {
			case inward && !w.covered(Jam, dir) && (f.TieP < 0.2 || best > 10*within):
				f.Kind, f.Form, f.Direction = Jam, "no longer reached", dir
				f.Event = fmt.Sprintf("stall %s", dir)
				f.Volts = Interval{math.Min(lb, hb), math.Max(lb, hb)}
				f.Measures = append(f.Measures, Measure{"level", medianOf(b), w.unit()})
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
