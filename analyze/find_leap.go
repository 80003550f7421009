package analyze

import (
	"math"
	"slices"
	"strings"
)

// leapStuck and leapGoesOn are the forms of a [LastingLeap].
const (
	leapStuck  = "and does not follow the drive any more"
	leapGoesOn = "and goes on from there"
)

// leapLate is the form of one after which nothing drove the shaft: it tells by itself.
const leapLate = "against the drive, while the shaft stood"

// neverBack is the measure of a leap beyond all places seen before, over which the
// shaft need not have been driven back since.
const neverBack = "never driven back over the place"

// leaptAtRest is the measure of a leap that came while nothing moved.
const leaptAtRest = "while the shaft rested"

// findLastingLeap reports the one leap after which the reading never comes back
// to its line. Driven on its way a reading may leap over a dead spot and go on,
// so there it must have stopped following the drive; at rest, in a stall or
// against the drive no leap is a motion.
func (w *work) findLastingLeap() {
	if w.covered(DriveShift, None) || slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == AtRail && strings.HasPrefix(f.Form, aboveSupply) }) {
		return // where it leapt to says more, or when
	}
	all := oneBurst(w.allLeaps())
	for i := len(all) - 1; i >= 0; i-- {
		l := all[i]
		size := math.Abs(l.after - l.before)
		if size < 0.1*w.ref {
			continue
		}
		// A second leap, or the way back from where the one before led, is a
		// contact or a place and found as such.
		if len(all)-i > 1 || i > 0 && math.Abs(all[i-1].after-l.before) < math.Max(4*w.tol, 0.1*size) {
			return
		}
		if !w.heldBefore(l) || w.slipsAt(l.at) {
			return
		}
		stuck, moves := w.stuckSince(l)
		late := moves < 2
		if late && !w.leaptLate(l) {
			return
		}
		form := leapGoesOn
		switch ahead := (l.after - l.before) * float64(l.direction); {
		case late:
			form = leapLate
		case stuck:
			form = leapStuck
		case !l.moving:
			// A hand may have turned it while nothing drove, but not so fast.
		case l.move >= 0 && ahead > 0 && !w.stalledAt(l):
			return
		}
		if form == leapGoesOn && w.stopsStayed(l.at, size) {
			return
		}
		end := w.t[len(w.t)-1]
		f := Finding{Kind: LastingLeap, Form: form, Tie: TiedToTime, TieP: 1, Time: Interval{l.at, end}, Seen: 1, Passes: 1, Event: "leap",
			Volts: Interval{math.Min(l.before, l.after), math.Max(l.before, l.after)}, Strength: 1,
			Places:   []Occurrence{{Interval{l.at, math.Min(end, l.at+2*w.tr.Step)}, Interval{math.Min(l.before, l.after), math.Max(l.before, l.after)}, None}},
			Measures: []Measure{{MeasureFrom, l.before, w.unit()}, {MeasureTo, l.after, w.unit()}, {"drives since", float64(moves), ""}}}
		if !l.moving {
			f.Measures = append(f.Measures, Measure{leaptAtRest, 1, ""})
		}
		if stuck && l.moving && !l.coasting && w.furthestYet(l) && !w.drivenBack(l) {
			f.Measures = append(f.Measures, Measure{neverBack, 1, ""})
		}
		w.found = append(w.found, f)
		w.joinLeap(f)
		return
	}
}

// leaptLate tells whether a leap is no motion by itself, with no drive since that could
// show it: against a drive at which the shaft had come to a stand, to a level that a wiper
// may give and at which the reading has lasted for a second. A clip that is taken off
// leaves nothing behind.
func (w *work) leaptLate(l leap) bool {
	const lasts = 1 // s, as heldBefore
	end := len(w.v) - 1
	if !l.moving || l.coasting || l.move < 0 || (l.after-l.before)*float64(l.direction) >= 0 || w.t[end]-l.at < lasts {
		return false
	}
	if rail := w.opt.RailBand * w.ref; l.after < rail || l.after > w.ref-rail || !w.stalledAt(l) {
		return false
	}
	for i := indexAt(w.t, l.at+0.3); i <= end; i++ {
		if math.Abs(w.v[i]-l.after) > 2*w.tol {
			return false
		}
	}
	return true
}

// stopsStayed tells whether the stops that the shaft ran into before a moment and after
// it read the same both times, to a quarter of a given change: then the change did
// not last.
func (w *work) stopsStayed(at, change float64) bool {
	var level [2][2][]float64 // by direction, before and after
	for _, s := range w.stallsOf() {
		if !s.arrived {
			continue
		}
		late := 0
		if s.at > at {
			late = 1
		}
		d := side(w.moves[s.move].Direction)
		level[d][late] = append(level[d][late], s.level)
	}
	known := false
	for _, l := range level {
		if len(l[0]) > 0 && len(l[1]) > 0 {
			known = true
			if math.Abs(medianOf(l[1])-medianOf(l[0])) >= change/4 {
				return false
			}
		}
	}
	return known
}

// slipsAt tells whether teeth that slip, three times or more, let go at a moment: then
// the leap is one of theirs.
func (w *work) slipsAt(at float64) bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool {
		return f.Kind == GearSlip && f.Seen >= 3 && slices.ContainsFunc(f.Places, func(o Occurrence) bool {
			return at > o.Time.From-0.3 && at < o.Time.To+0.3
		})
	})
}

// furthestYet tells whether the reading, as it leapt, was further the way it was
// driven than ever before.
func (w *work) furthestYet(l leap) bool {
	end := indexAt(w.t, l.at-1)
	for i := 0; i < end; i++ {
		if float64(l.direction)*(w.v[i]-l.before) > w.tol {
			return false
		}
	}
	return true
}

// drivenBack tells whether the drives since a leap must have taken the shaft back over
// the place it leapt at, wherever beyond it the stop may lie: [wiperMargin] from the end
// of the range at the most.
func (w *work) drivenBack(l leap) bool {
	room := (1-wiperMargin)*w.ref - l.before
	if l.direction == Down {
		room = l.before - wiperMargin*w.ref
	}
	room = math.Max(room, wiperMargin*w.ref)
	beyond := 0.0
	for k := range w.moves {
		m := &w.moves[k]
		if m.Time.To <= l.at || m.Direction == None {
			continue
		}
		went := w.rate[side(m.Direction)] * math.Min(1, math.Abs(m.DriveMean)/w.d.amp) * (m.Time.To - math.Max(l.at, m.Time.From))
		beyond = math.Min(room, beyond+float64(m.Direction*l.direction)*went)
		if beyond < -0.1*w.ref {
			return true
		}
	}
	return false
}

// oneBurst makes one leap of those that follow each other within a second, two
// seconds long at most: a contact that breaks, or touches another, chatters before
// it stays.
func oneBurst(all []leap) []leap {
	var out []leap
	end := math.Inf(-1)
	for _, l := range all {
		if n := len(out); n > 0 && l.at-end < 1 && l.at-out[n-1].at < 2 {
			out[n-1].after = l.after
			out[n-1].moving = out[n-1].moving || l.moving
		} else {
			out = append(out, l)
		}
		end = l.at
	}
	return out
}

// heldBefore tells whether the reading was on the line that the leap left for a
// second before it: on its way back from a dead spot, slowly left, it was not.
func (w *work) heldBefore(l leap) bool {
	r := w.lim.Fast * math.Max(w.rate[0], w.rate[1])
	end := indexAt(w.t, l.at)
	for i := end - 1; i >= 0; i-- {
		ago := w.t[end] - w.t[i]
		if ago > 1 {
			return true
		}
		if ago > 0.05 && math.Abs(w.v[i]-l.before) > 4*w.tol+r*ago {
			return false
		}
	}
	return false // it began with it
}

// stalledAt tells whether the reading stood for some time before the leap,
// under a drive that should have moved it.
func (w *work) stalledAt(l leap) bool {
	i := indexAt(w.t, l.at)
	since := i
	for since > 0 && lapse(w.t[i], w.t[since]) < 1 && math.Abs(w.v[since-1]-l.before) < 2*w.tol {
		since--
	}
	r := w.rate[side(l.direction)]
	return r > 0 && r*(w.t[i]-w.t[since]) > 4*w.tol
}

// stuckSince tells whether the reading follows none of the drives after the
// leap, and counts them. They must be long enough together to have crossed a
// tenth of the reference, and go both ways or not be pressed against a stop.
func (w *work) stuckSince(l leap) (stuck bool, moves int) {
	should, did := 0.0, 0.0
	ways := map[Direction]bool{}
	for k := range w.moves {
		m := &w.moves[k]
		if m.Time.To <= l.at+0.3 || m.Direction == None {
			continue
		}
		moves++
		ways[m.Direction] = true
		a := max(m.first, indexAt(w.t, l.at+0.3))
		if a >= m.last-1 {
			continue
		}
		r := w.rate[side(m.Direction)]
		should += math.Min(r*(w.t[m.last-1]-w.t[a]), w.ref)
		did += math.Max(0, float64(m.Direction)*(medianSmall(w.v[max(a, m.last-5):m.last])-medianSmall(w.v[a:min(a+5, m.last)])))
	}
	return should > 0.3*w.ref && did < 0.1*math.Min(should, w.ref) && len(ways) == 2, moves
}

// joinLeap joins to a lasting leap what else was found: a reading that is none
// makes stalls, slow places and hunting out of nothing, and moves the ends by
// which the time before it was judged.
func (w *work) joinLeap(l Finding) {
	for i := range w.found {
		f := &w.found[i]
		switch f.Kind {
		case LastingLeap, RefLoss, SupplySag, NoDrive, HalfDrive, NotAPot:
			continue
		}
		f.Event = l.Event
		f.Strength *= 0.2
	}
}
