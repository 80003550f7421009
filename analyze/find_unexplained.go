package analyze

import (
	"fmt"
	"math"
	"slices"
)

// A sound actuator explains nearly all of its driven time: it sets out a little after
// its drive, keeps to one pace at each place, and stands only at a stop; undriven its
// reading holds. What is beyond that, shown clearly and yet of no shape that a finder
// knows, clears nobody. It names no component by itself more than continuity does: a
// leap is none of a shaft, and a late start is none of a track that is read at once.

// Forms of [Unexplained].
const (
	paceFalls     = "slower and quicker again"
	placeSlows    = "slower at a place than before"
	waitsLong     = "a late start"
	leapsOnce     = "a leap"
	restsUnevenly = "moves at rest and comes back"
)

const (
	// paceFall is how much slower, as a share, a pass is at the same places, the same way
	// and at the same volts than an earlier one. Warming grease makes it quicker, a supply is
	// divided out, and what the motor warms up by in a capture takes less from it than ten
	// percent; three times that (chosen, not derived).
	paceFall = 0.3
	// paceDrive is how far, as a share, the volts of two passes may differ that are compared:
	// nearer to the volts it starts at a motor slows down by more than in proportion.
	paceDrive = 0.1
	// paceMoves bounds the work: of so many moves every one is compared with all the others.
	paceMoves = 200
)

// findUnexplained reports what no finding explains, where none speaks against "no fault".
func (w *work) findUnexplained() {
	if w.sense == 0 || w.contrary != "" || w.span.Width() <= 0 || w.anyForce() {
		return
	}
	for _, find := range []func() *Finding{w.fallOfPace, w.longWait, w.strayLeap, w.restLeaves} {
		if f := find(); f != nil {
			f.Kind, f.Tie, f.TieP = Unexplained, TieUnknown, 1
			f.Event = "unexplained " + f.Form
			w.found = append(w.found, *f)
		}
	}
}

// anyForce tells whether a finding speaks against "no fault" by three to one or more.
func (w *work) anyForce() bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool {
		f.span, f.ref = w.span.Width(), w.ref
		f.Strength = math.Max(0, math.Min(1, f.Strength))
		p, _ := weights(&f)
		return forceOf(p) > math.Log(3)
	})
}

// crossedAt is the speed, and the volts, at which a pass crossed a stretch.
type crossedAt struct{ speed, volts float64 }

// paced is one pass over the stretches of the travel, the volts 0 where it did not cross one.
type paced struct {
	move int
	at   [paceCells]crossedAt
}

// pacedPasses lists, for each way, the passes that crossed two stretches or more.
func (w *work) pacedPasses() (out [2][]paced) {
	width := w.span.Width() / paceCells
	for k := range w.moves {
		c, d := w.crossings(&w.moves[k], width), side(w.moves[k].Direction)
		if len(c) < 2 || len(out[d]) >= paceMoves {
			continue
		}
		p := paced{move: k}
		for _, x := range c {
			volts, _ := w.meanVolts(x.first, x.last)
			p.at[x.cell] = crossedAt{x.speed, volts}
		}
		out[d] = append(out[d], p)
	}
	return out
}

// fellSince gives by how much, in logarithms, a pass is slower than an earlier one: all
// over (the median of the stretches that both crossed at the same volts), and at the worst
// place, which is two neighbouring stretches.
func (p *paced) fellSince(before *paced) (all, place float64, cell int) {
	var fell []float64
	last := 0.0
	for c := range p.at {
		a, b := before.at[c], p.at[c]
		if a.volts <= 0 || b.volts <= 0 || math.Abs(a.volts-b.volts) >= paceDrive*a.volts {
			last = 0
			continue
		}
		x := a.speed - b.speed
		fell = append(fell, x)
		if both := math.Min(last, x); both > place {
			place, cell = both, c
		}
		last = x
	}
	if len(fell) >= 2 {
		all = medianOf(fell)
	}
	return all, place, cell
}

// fallOfPace looks for passes that are slower than an earlier one the same way and at the
// same volts, all over or at one place.
func (w *work) fallOfPace() *Finding {
	width := w.span.Width() / paceCells
	// The time over a stretch must be known well enough, and so must the motor's volts: a
	// control that slows down unseen before its targets does so elsewhere too.
	if !w.driveKnown() || w.slows > 0 || !w.voltsLive() || w.wave != 0 || w.tol > paceFall/2*width {
		return nil
	}
	least := -math.Log(1 - paceFall)
	passes := w.pacedPasses()
	allOver := &Finding{Form: paceFalls, Time: noInterval(), Volts: w.span}
	atPlace := &Finding{Form: placeSlows, Time: noInterval(), Volts: noInterval()}
	var falls []float64
	note := func(f *Finding, k int, fell float64) {
		m := &w.moves[k]
		f.Seen++
		f.Time = f.Time.widen(m.Time.From).widen(m.Time.To)
		f.Places = append(f.Places, Occurrence{m.Time, Interval{math.Min(m.Start, m.End), math.Max(m.Start, m.End)}, m.Direction})
		f.Measures = []Measure{{changeOfSpeed, math.Min(f.value(changeOfSpeed), 100*(math.Exp(-fell)-1)), "%"}}
	}
	for d := range passes {
		for j := range passes[d] {
			most, worst, at := 0.0, 0.0, 0
			for b := range j {
				all, place, cell := passes[d][j].fellSince(&passes[d][b])
				most = math.Max(most, all)
				if place > worst {
					worst, at = place, cell
				}
			}
			switch k := passes[d][j].move; {
			case most > least:
				note(allOver, k, most)
				falls = append(falls, most)
			case worst > least:
				note(atPlace, k, worst)
				falls = append(falls, worst)
				atPlace.Volts = atPlace.Volts.widen(w.span.From + float64(at-1)*width).widen(w.span.From + float64(at+1)*width)
			}
		}
	}
	made := len(passes[0]) + len(passes[1])
	allOver.Passes, atPlace.Passes = made, made
	switch {
	case allOver.Seen > 0 && !secondSpeed(falls):
		allOver.Strength = 0.9
		return allOver
	case atPlace.Seen > 1: // once it may be a hitch
		atPlace.Strength = 0.9
		return atPlace
	}
	return nil
}

// secondSpeed tells whether two passes fall to one and the same share of the pace: a control
// that turns its speed down by pulses which the instrument did not show. What fails is slow
// by now more, now less. A twentieth is what a pass's speed over a few stretches scatters by
// (chosen, not derived).
func secondSpeed(falls []float64) bool {
	for i, x := range falls {
		if slices.ContainsFunc(falls[:i], func(y float64) bool { return math.Abs(x-y) < 0.05 }) {
			return true
		}
	}
	return false
}

// voltsLive tells whether the drive is a measured one. Volts that a motor loads stir; where
// they stand at one figure all along every move it is a polarity written in volts, and the
// motor may have got others.
func (w *work) voltsLive() bool {
	for k := range w.moves {
		m := &w.moves[k]
		third := (m.last - m.first) / 3
		if third < 2 {
			continue
		}
		if lo, hi := extremes(w.d.mean[m.first+third : m.last-third]); hi > lo {
			return true
		}
	}
	return false
}

// longWait looks for drives that stood for longer than play and gears that were wound up
// take, where others of the same volts set out at once. Between the steps of a track the
// reading stands whenever it is driven on from there.
func (w *work) longWait() *Finding {
	if slices.ContainsFunc(w.found, func(f Finding) bool { return f.Form == madeInSteps }) {
		return nil
	}
	var delays []float64
	for k := range w.moves {
		if m := &w.moves[k]; m.Moving > 0 {
			delays = append(delays, m.Delay)
		}
	}
	if len(delays) < 2 {
		return nil
	}
	least := math.Max(offStopLate, 0.2+3*quantileOf(delays, 0.25))
	f := &Finding{Form: waitsLong, Time: noInterval(), Volts: noInterval(), Passes: len(delays)}
	longest := 0.0
	for k := range w.moves {
		m := &w.moves[k]
		if m.Moving == 0 || m.Delay < least || len(m.segs) < 2 {
			continue
		}
		s := m.segs[0]
		volts, _ := w.meanVolts(s.first, s.last)
		if r := w.rate[side(m.Direction)] * volts / w.d.amp; volts < 0.7*w.d.amp || r*m.Delay < math.Max(4*w.visible(), mostPlay*w.span.Width()) {
			continue
		}
		f.Seen++
		f.Time, f.Volts = f.Time.widen(m.Time.From).widen(m.Time.From+m.Delay), f.Volts.widen(m.Start)
		f.Places = append(f.Places, Occurrence{Interval{m.Time.From, m.Time.From + m.Delay}, Interval{m.Start, m.Start}, m.Direction})
		longest = math.Max(longest, m.Delay)
	}
	if f.Seen == 0 {
		return nil
	}
	f.Measures = []Measure{{MeasureLongestStand, longest, "s"}}
	f.Strength = 0.8
	return f
}

// strayLeap looks for leaps faster than any shaft that belong to no finding.
func (w *work) strayLeap() *Finding {
	all := slices.DeleteFunc(slices.Clone(w.allLeaps()), w.kicked)
	taken := func(k Kind) bool { return w.covered(k, None) }
	// A rough track and a bad contact leap by themselves.
	if len(all) == 0 || slices.ContainsFunc([]Kind{Dropouts, DriveShift, RefLoss, NoisyTrack, DeadSpot}, taken) {
		return nil
	}
	f := &Finding{Form: leapsOnce, Time: noInterval(), Volts: noInterval(), Seen: len(all), Passes: max(len(w.moves), len(all))}
	most := 0.0
	for _, l := range all {
		v := Interval{math.Min(l.before, l.after), math.Max(l.before, l.after)}
		f.Time = f.Time.widen(l.at)
		f.Volts = f.Volts.widen(v.From).widen(v.To)
		f.Places = append(f.Places, Occurrence{Interval{l.at, l.at}, v, l.direction})
		most = math.Max(most, v.Width())
	}
	f.Measures = []Measure{{MeasureStep, most, w.unit()}}
	f.Strength = 0.8
	return f
}

// kicked tells whether a leap is a row in which the drive is switched: what a winding throws
// back then is over within a row, and the next ones lie no further from those before than the
// shaft has gone meanwhile.
func (w *work) kicked(l leap) bool {
	const rows = 2 // after it, and the switching may be logged a row early or late
	i := indexAt(w.t, l.at)
	for k := range w.moves {
		for _, e := range []int{w.moves[k].first, w.moves[k].last} {
			if i < e-1 || i > e+rows || e < 2 || e+rows >= len(w.v) {
				continue
			}
			way := math.Max(w.rate[0], w.rate[1])*lapse(w.t[e+rows], w.t[e-2]) + 2*w.visible()
			return math.Abs(w.v[e+rows]-w.v[e-2]) <= way
		}
	}
	return false
}

// restLeaves looks for rests in which the reading leaves its level and comes back to it:
// a shaft that creeps, coasts or is sprung back does not come back.
func (w *work) restLeaves() *Finding {
	const (
		settled = 0.5  // s after a drive: coast and springs are over
		window  = 0.15 // s, of a level
	)
	n := max(5, w.rows(window))
	least := math.Max(1.5*w.tol, 0.02*w.ref) // of the supply: more than an instrument drifts by (chosen, not derived)
	f := &Finding{Form: restsUnevenly, Time: noInterval(), Volts: noInterval()}
	most, since := 0.0, 0
	for i := 0; i <= len(w.t); i++ {
		if i < len(w.t) && w.d.pol[i] == 0 {
			continue
		}
		a := since
		since = i + 1
		if a > 0 {
			a += w.rows(settled)
		}
		var level []float64
		for b := a; b+n <= i-1; b += n {
			level = append(level, medianOf(w.v[b:b+n]))
		}
		if away := leavesAndReturns(level); away > least {
			f.Seen++
			f.Time = f.Time.widen(w.t[a]).widen(w.t[i-1])
			f.Volts = f.Volts.widen(slices.Min(level)).widen(slices.Max(level))
			most = math.Max(most, away)
		}
	}
	if f.Seen == 0 {
		return nil
	}
	f.Passes = f.Seen
	f.Measures = []Measure{{MeasureStep, most, w.unit()}}
	f.Strength = 0.8
	return f
}

// leavesAndReturns is how far levels go off and come back by, whichever way.
func leavesAndReturns(level []float64) float64 {
	most := 0.0
	for _, sign := range []float64{1, -1} {
		// The lowest before and after each.
		before, after := math.Inf(1), make([]float64, len(level)+1)
		after[len(level)] = math.Inf(1)
		for i := len(level) - 1; i >= 0; i-- {
			after[i] = math.Min(after[i+1], sign*level[i])
		}
		for i, x := range level {
			x *= sign
			if i > 0 && i+1 < len(level) {
				most = math.Max(most, x-math.Max(before, after[i+1]))
			}
			before = math.Min(before, x)
		}
	}
	return most
}

// unexplainedLikelihood: each of them is more than nine in ten sound actuators show, by
// far; which component it belongs to is known by continuity only.
func unexplainedLikelihood(f *Finding) (shown, string) {
	switch f.Form {
	case paceFalls:
		return shown{.003, .004, .1, .06, .06}, "the same way, at the same places and volts it is slower than it was before: grease that warms makes it quicker, and no sound motor does that; brushes, the feed or a load that comes and goes"
	case placeSlows:
		return shown{.003, .02, .04, .15, .02}, "from one pass on it is slower at one place, the same way and at the same volts: something has begun to drag there"
	case waitsLong:
		return shown{.003, .03, .1, .06, .07}, "it sets out only after standing under drive longer than play takes, at other times at once: brushes, a cut-out, the feed, or something that holds it for a while"
	case leapsOnce:
		return shown{.003, .12, .03, .01, .1}, "the reading leaps further than a shaft can turn, and no finding tells why: the track, the wiper or a contact"
	}
	return shown{.003, .05, .002, .01, .12}, "undriven the reading goes off and comes back, which no shaft does by itself: a contact or a ground that is shared"
}

// titleUnexplained says what it is.
func (f *Finding) titleUnexplained(t told) string {
	switch f.Form {
	case paceFalls:
		return fmt.Sprintf("Slower by %.0f %% than an earlier pass the same way at the same volts, and not for warming up.", math.Abs(f.value(changeOfSpeed)))
	case placeSlows:
		return fmt.Sprintf("Slower at %s by up to %.0f %% than an earlier pass the same way at the same volts, in %s.", t.band, math.Abs(f.value(changeOfSpeed)), counted(f.Seen, "pass"))
	case waitsLong:
		return fmt.Sprintf("Sets out only after %.1f s under drive, in %d of %s.", f.value(MeasureLongestStand), f.Seen, counted(f.Passes, "drive"))
	case leapsOnce:
		return fmt.Sprintf("The reading leaps by up to %s, %s, and nothing seen explains it.", amount(f.value(MeasureStep), t.unit), timesText(f.Seen))
	}
	return fmt.Sprintf("At rest the reading goes off by %s and comes back, in %s.", amount(f.value(MeasureStep), t.unit), counted(f.Seen, "rest"))
}
