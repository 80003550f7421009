package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
)

// Common practice, no source: a healthy wiper ends its travel in the outer
// quarter of its supply. A stop further in is either a short-travel actuator
// or an obstacle.
const outerQuarter = 0.25

// findShortStop looks at the outermost stop of each side. It is suspect when
// it lies far inside the supply and is driven into again and again while the
// other side is not. A profile would say where the stop should be.
func (w *work) findShortStop() {
	count := map[Direction]*Stop{}
	for i := range w.stops {
		if s := &w.stops[i]; s.Extreme {
			count[s.Direction] = s
		}
	}
	for _, dir := range []Direction{Down, Up} {
		s := count[dir]
		if s == nil || w.covered(Jam, dir) || w.covered(GearSlip, dir) {
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
		f.Measures = []Measure{{"stalls", float64(s.Stalls), ""}, {"stalled in all", s.Seconds, "s"}, {MeasureLevel, s.Level, w.unit()}}
		if w.opt.Profile != nil {
			continue // the profile says where the stop should be
		}
		// The outermost stall is a stop only if the travel ends there, and how
		// far inside the supply it lies is known only if the supply is.
		end := w.span.To - s.Level
		if dir == Down {
			end = s.Level - w.span.From
		}
		if !w.refSure || end > 0.06*w.span.Width()+w.tol || inside > 0.2 && w.leakMovesStop(dir, s.Level) {
			continue
		}
		if n := w.wantsOn(dir); n >= 3 && 4*w.wantsOn(-dir) <= n && w.leavesFreely(dir) && !w.covered(EndLoss, dir) && !w.covered(HalfDrive, dir) {
			f.Form = wantsOn
			f.Seen, f.Passes = n, n
			f.Strength = math.Min(0.95, 1-math.Exp(-float64(max(n, s.Stalls/2)-1)/2))
			f.Measures = append(f.Measures, Measure{"new drives into it", float64(n), ""}, Measure{MeasureInsideSupply, 100 * inside, "%"})
			w.found = append(w.found, f)
			continue
		}
		// Pulses that push on once it is reached are one visit, and no insisting.
		if free := w.settledEnds(-dir); inside > 0.2 && inside <= outerQuarter && s.Stalls >= 3 && w.returns(dir) >= 2 && other == 0 && free >= 3 && !w.covered(GearSlip, -dir) {
			f.Form = jamDriven + ", while the other end is reached without a stall"
			f.Strength = math.Min(0.9, 1-math.Exp(-float64(s.Stalls)/3))
			w.found = append(w.found, f)
			continue
		}
		if n := w.checkTries(dir); inside > outerQuarter && s.Stalls >= 3 && n >= 3 && len(w.excuse(dir, inside)) == 0 {
			f.Form = jamDriven + ", " + jamFarInside
			f.Strength = 0.9
			f.Measures = append(f.Measures, Measure{triesOfCheck, float64(n), ""})
			w.found = append(w.found, f)
			continue
		}
		// Whoever sends the shaft here and there meets either end alike: it is
		// insisted on one side when a fair coin would seldom fall so often so.
		n, m := s.Stalls, other
		if w.jogged() {
			n, m = w.returns(dir), w.returns(-dir)
		}
		if inside > outerQuarter && (n >= 6 || w.returns(dir) >= 2) && stats.BinomialTail(n, n+m, 0.5) <= 0.05 {
			f.Form = jamDriven + ", " + jamFarInside
			f.Seen, f.Passes = n, n
			f.Measures = append(f.Measures, w.excuse(dir, inside)...)
			f.Strength = math.Min(0.9, 1-math.Exp(-float64(n)/3))
			w.found = append(w.found, f)
			continue
		}
		w.endsEarly(f, s.Stalls, other, inside)
	}
}

// endsEarly says of a stop that, even without insisting, a travel that ends beyond a third
// of the supply on one side and as usual on the other is odd; f is the finding so far, n and
// m the drives that ended at this stop and at the other, inside how far it lies within the
// supply, 0 to 1.
func (w *work) endsEarly(f Finding, n, m int, inside float64) {
	far := w.span.From / w.ref
	if f.Direction == Down {
		far = 1 - w.span.To/w.ref
	}
	// Drives from end to end stop at either in turn: their counts differ by one at most.
	again := n >= max(m+2, 2*m) && w.comesAgain(f.Direction) > 0
	if inside <= 0.35 || far >= 0.2 || !again && w.returns(f.Direction) < 2 {
		return
	}
	f.Form, f.Strength = jamFarInside+", the other end is not", 0.7
	e := w.excuse(f.Direction, inside)
	f.Measures = append(f.Measures, e...)
	tries := w.triedAgain(f.Direction)
	tried := tries >= 2 && w.triedAgain(-f.Direction) == 0
	switch {
	// Where the sensor's supply accounts for the place, a few drives more than at the other
	// end, as a fair coin makes as well, do not say that it is wanted further on.
	case again && (len(e) == 0 || tried):
		f.Strength = 0.9 // the stop is there: open is only what it is
		f.Measures = append(f.Measures, Measure{oftenerThere, float64(m), ""})
		if tried {
			f.Measures = append(f.Measures, Measure{triedAgain, float64(tries), ""})
		}
	case len(e) > 0:
		f.Strength = 0.45 // as likely the build
	}
	w.found = append(w.found, f)
}

// stepsBack tells of each drive into the stop of a direction how far from it, V, the shaft
// had been since the one before, infinitely at the first; and what counts as lying at it.
// Nothing where the shaft was moved by jogging.
func (w *work) stepsBack(dir Direction) (steps []float64, near float64) {
	if w.jogged() {
		return nil, 0
	}
	near = w.lim.EndZone*w.span.Width() + w.tol
	deepest := math.Inf(1)
	for k := range w.moves {
		m := &w.moves[k]
		depth := w.span.To - m.End
		if dir == Down {
			depth = m.End - w.span.From
		}
		if m.Direction != dir || m.Stalled <= w.lim.StallSeconds || depth > near {
			deepest = math.Max(deepest, depth)
			continue
		}
		steps, deepest = append(steps, deepest), 0
	}
	return steps, near
}

// comesAgain is how often the shaft was driven into the stop of a direction anew, from
// where it rests or from a step back, less than half of the travel: whoever wants a place
// beyond it does so. Pulses that push on are one drive.
func (w *work) comesAgain(dir Direction) int {
	n := 0
	steps, _ := w.stepsBack(dir)
	for _, back := range steps {
		if back < w.span.Width()/2 {
			n++
		}
	}
	return n
}

// triedAgain is the name of a measure: how often in a row the shaft stepped back from a
// stop and was driven into it anew.
const triedAgain = "driven into it again after a step back"

// triedAgain is how often in a row, at most, the shaft stepped back from the stop of a
// direction, by less than half of the travel, and was driven into it anew: what a control
// or a person does to whom it got stuck there. Who was content with it goes elsewhere.
func (w *work) triedAgain(dir Direction) (most int) {
	n := 0
	steps, near := w.stepsBack(dir)
	for _, back := range steps {
		switch {
		case back >= w.span.Width()/2:
			n = 0
		case back > near:
			n++
		}
		most = max(most, n)
	}
	return most
}

// oftenerThere is the name of a measure: the drives that ended at the other stop, where more
// of them ended at this one.
const oftenerThere = "stalls at the other stop"

// wantsOn is the form of a stop into which the shaft is driven anew although it rests
// there.
const wantsOn = jamDriven + ", though it rests there"

// wantsOn is how often the shaft was driven anew, after a rest, into the stop of a
// direction on which it lay already, and did not move: whoever drives it so wants it
// further on. What goes by pulses, or pushes once more to be sure, does so at once.
func (w *work) wantsOn(dir Direction) int {
	const rest, least = 1.5, 0.2 // s
	near := w.lim.EndZone*w.span.Width() + w.tol
	n := 0
	for k := 1; k < len(w.moves); k++ {
		m := &w.moves[k]
		at := dir == Up && m.Start > w.span.To-near || dir == Down && m.Start < w.span.From+near
		if m.Direction == dir && at && m.Moving == 0 && m.Duration() > least && m.Time.From-w.moves[k-1].Time.To > rest {
			n++
		}
	}
	return n
}

// leavesFreely tells whether the shaft was driven back from the stop of a direction and
// went: where nobody drives it back, or nothing comes of it, a leg of the drive is dead.
func (w *work) leavesFreely(dir Direction) bool {
	near := w.lim.EndZone*w.span.Width() + w.tol
	for k := range w.moves {
		m := &w.moves[k]
		at := dir == Up && m.Start > w.span.To-near || dir == Down && m.Start < w.span.From+near
		if lo, hi := w.tracked(m); m.Direction == -dir && at && hi-lo > near {
			return true
		}
	}
	return false
}

// checkTries is how often a position check over the travel was run that was not
// completed, and that did not try the end of the other direction oftener: a control
// tries again where it does not find what it looks for.
func (w *work) checkTries(dir Direction) int {
	for _, c := range w.checks {
		if c.Kind != CheckSweep || c.Outcome == CheckCompleted {
			continue
		}
		here, there := 0, 0
		for k := range w.moves {
			switch m := &w.moves[k]; {
			case m.Time.From < c.Time.From || m.Time.From >= c.Time.To || !w.failed(m):
			case m.Direction == dir:
				here++
			case m.Direction == -dir:
				there++
			}
		}
		if there > here {
			return 0
		}
		return c.Retries + 1
	}
	return 0
}

// jogged tells whether the shaft is driven in steps: most moves that end on the
// way are followed by one in the same direction. Steps that push against a
// stop once it is reached are then one visit, and no insisting.
func (w *work) jogged() bool {
	on, all := 0, 0
	for k := 0; k+1 < len(w.moves); k++ {
		if m := &w.moves[k]; m.Moving > 0 && m.Stalled == 0 {
			all++
			if w.moves[k+1].Polarity == m.Polarity {
				on++
			}
		}
	}
	return 2*on > all
}

// returns is how often a stop was visited from a tenth of the span away or
// more.
func (w *work) returns(dir Direction) int { return len(w.endVisits()[side(dir)].x) }

// excuse names why a healthy stop may lie so far inside the supply: the travel
// ends as far inside on the other side (a short-travel actuator), its pace is that of a
// short travel, or no reference was logged and the stop would be usual for a 3.3 V sensor.
func (w *work) excuse(dir Direction, inside float64) []Measure {
	far := w.span.From / w.ref
	if dir == Down {
		far = 1 - w.span.To/w.ref
	}
	switch {
	case math.Abs(far-inside) < 0.1:
		return []Measure{{otherEndAsFar, 100 * far, "% of reference"}}
	case w.travelByPace() < w.usualTravel():
		return []Measure{{paceOfShort, 100 * w.travelByPace() / w.ref, "% of reference"}}
	case w.tr.Reference == nil && dir == Up && w.ref == 5 && w.span.To < 3.3*0.96 && w.span.To > 3.3*(1-outerQuarter):
		return []Measure{{usualOnLowSupply, 100 * w.span.To / 3.3, "% of 3.3 V"}}
	}
	return nil
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
