package analyze

import (
	"fmt"
	"math"
)

// findStands reports places and times at which the shaft stood under drive
// and went on: at a repeated place (the door catches), at many places of each
// pass (stick-slip), or at scattered places (brushes or a weak motor).
func (w *work) findStands() {
	var ev []*event
	perMove := map[int]int{}
	for i := range w.events {
		e := &w.events[i]
		// Next to a stop a shaft may rest while play and seals let go.
		if at := e.volts().Mid(); at < w.span.From+w.lim.EndZone*w.span.Width() || at > w.span.To-w.lim.EndZone*w.span.Width() {
			continue
		}
		if w.leavesStop(e) || w.madeUp(&w.moves[e.move]) {
			continue
		}
		if w.stood(e) && e.seconds >= math.Max(0.05, 2*w.tr.Step) && !w.barelyDriven(e) {
			ev = append(ev, e)
			perMove[e.move]++
		}
	}
	if len(ev) == 0 {
		return
	}
	many := 0
	for _, n := range perMove {
		if n >= 4 {
			many++
		}
	}
	passes := 0
	for k := range w.moves {
		if m := &w.moves[k]; m.Direction != None && m.Travel() > 0.3*w.span.Width() {
			passes++
		}
	}
	if many > 0 && 2*many >= len(perMove) && 3*many >= passes {
		f := w.standFinding(StickSlip, ev)
		f.Form = "many stops along each pass"
		w.found = append(w.found, f)
		return
	}
	var strewn []*event
	for _, c := range w.clusters(ev) {
		seen, made := w.passes(c)
		n, passes := seen[0]+seen[1], made[0]+made[1]
		d := oneDirection(seen)
		if d != None {
			passes = made[side(d)]
		}
		tied, p := w.tie(c, len(ev))
		if tied == TiedToPosition && n >= 2 && (3*n >= 2*passes || w.nowhereElse(c, ev, n, passes, p)) {
			f := w.standFinding(SlowZone, c.events)
			f.Form = standsAndGoes
			f.Tie, f.TieP, f.Seen, f.Passes, f.Direction = tied, p, n, passes, d
			f.Volts = c.volts
			w.nameStands(&f, n)
			w.found = append(w.found, f)
			continue
		}
		for _, e := range c.events {
			if e.seconds >= w.lim.StallSeconds {
				strewn = append(strewn, e)
			}
		}
	}
	var took []float64
	for _, e := range strewn {
		took = append(took, e.seconds)
	}
	switch {
	case len(strewn) == 0:
	case w.rides(took):
		w.wave = medianOf(took)
	default:
		f := w.standFinding(Pauses, strewn)
		// One alone may be an accident of the noise, unless what the shaft fell behind by
		// stands clear of it.
		if e := strewn[0]; len(strewn) == 1 && e.expected-e.moved < 2*w.tol {
			f.Strength *= 0.5
		}
		w.found = append(w.found, f)
	}
}

// nowhereElse tells whether stands that come in most passes over a place, not in nearly
// all of them, come there and at no other: something lies there that gives way, or lies
// aside now and then. Brushes, a tired motor and a lead that opens know no place of the
// output: the motor turns hundreds of times on the way.
func (w *work) nowhereElse(c cluster, all []*event, seen, passes int, p float64) bool {
	const few = 4 // stands; of three the third may as well have been anywhere
	return len(c.events) >= few && len(c.events) == len(all) && 2*seen > passes && p < w.lim.Significance
}

// rides tells whether the reading rides on a slow wave all along its way, as where
// hum or the commutation of the motor folds down to it: it is as much too fast here
// as it is too slow there, and what looks like stands is the tail of that, hardly
// ever still. A shaft that stands now and then runs evenly between, and stands.
func (w *work) rides(stands []float64) bool {
	n := max(2, w.rows(medianOf(stands)/4))
	var speed []float64
	moving, standing := 0.0, 0.0
	for _, s := range stands {
		standing += s
	}
	for k := range w.moves {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		if m.Direction == None || r == 0 {
			continue
		}
		moving += m.Moving
		// Without the start and the stall at the end.
		from := m.first + w.rows(w.lim.StallSeconds)
		to := m.last - w.rows(m.Stalled+w.lim.StallSeconds)
		for i := from; i+n < to; i += max(1, n/8) {
			drive := 0.0
			for j := i; j < i+n; j++ {
				drive += math.Abs(m.gain[j-m.first]) / float64(n)
			}
			if dt := w.t[i+n] - w.t[i]; drive > 0.2 && dt > 0 {
				speed = append(speed, float64(m.Direction)*(w.smooth[i+n]-w.smooth[i])/(dt*r*drive))
			}
		}
	}
	// Forty stretches tell a quarter of them to a tenth or so.
	if len(speed) < 40 || standing > 0.25*moving {
		return false
	}
	usual := medianOf(speed)
	deviation := (quantileOf(speed, 0.75) - quantileOf(speed, 0.25)) / 1.349
	slow, fast := quantileOf(speed, 0.05), quantileOf(speed, 0.95)
	return usual < 3.5*deviation && fast-usual > 0.6*(usual-slow) && slow > 0.1*usual
}

// leavesStop tells whether a stand comes in a move that has just left a stop,
// within the play of the gears of it: a stop that was pressed pushes the shaft
// off, and then the motor has yet to take up the play.
func (w *work) leavesStop(e *event) bool {
	m := &w.moves[e.move]
	play := mostPlay * math.Max(w.span.Width(), w.leastTravel())
	gone := m.Start - w.span.From
	if m.Direction == Down {
		gone = w.span.To - m.Start
	}
	return gone < w.lim.EndZone*w.span.Width()+w.tol && math.Abs(e.volts().Mid()-m.Start) < play && e.expected < play
}

func (w *work) standFinding(k Kind, ev []*event) Finding {
	f := Finding{Kind: k, Seen: len(ev), Tie: TieUnknown, TieP: 1}
	f.Time = noInterval()
	f.Volts = f.Time
	longest, miss := 0.0, 1.0
	moves := map[int]bool{}
	for _, e := range ev {
		f.Time = f.Time.widen(e.time(w.t).From).widen(e.time(w.t).To)
		f.Volts = f.Volts.widen(e.volts().From).widen(e.volts().To)
		f.Places = append(f.Places, Occurrence{e.time(w.t), e.volts(), w.moves[e.move].Direction})
		longest = math.Max(longest, e.seconds)
		miss *= 1 - 0.7/(1+math.Exp(e.shift))
		moves[e.move] = true
	}
	f.Passes = len(moves)
	f.Strength = 1 - miss
	f.Event = w.eventAt(fmt.Sprintf("stands %s", k), f.Volts, coarsePlace)
	f.Measures = []Measure{{MeasureLongestStand, longest, "s"}, {"stands", float64(len(ev)), ""}}
	return f
}

// drivenTime is the stretch from the first to the last move.
func (w *work) drivenTime() Interval {
	if len(w.moves) == 0 {
		return Interval{}
	}
	return Interval{w.moves[0].Time.From, w.moves[len(w.moves)-1].Time.To}
}

// countBothWays takes in the passes of the same band the other way; one of the two may count
// both ways already.
func (f *Finding) countBothWays(g *Finding) {
	if f.Direction != None && g.Direction != None {
		f.Seen, f.Passes = f.Seen+g.Seen, f.Passes+g.Passes
	} else if g.Seen > f.Seen {
		f.Seen, f.Passes = g.Seen, g.Passes
	}
	f.Direction = None
}
