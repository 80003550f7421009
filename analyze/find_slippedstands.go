package analyze

import (
	"math"
	"slices"
)

// leapStood is the form of a [LastingLeap] that took its time: the reading stood while
// the shaft went on.
const leapStood = "while the reading stood"

// waySpread is what the speed of a shaft differs by from place to place, as a share:
// so far is the way that it makes unseen known (common practice, no source; [event.weigh]
// takes the same).
const waySpread = 0.2

// findSlippedStands tells a wiper that slips on its shaft while it is driven: the reading
// stands, the shaft does not, and both stops read shifted from then on by about the ways
// it would have made meanwhile. A motor that stands shifts no stop, an obstacle that falls
// in shifts one of them, and neither knows how long the reading stood elsewhere.
func (w *work) findSlippedStands() bool {
	if w.covered(DriveShift, None) || w.covered(RefLoss, None) || w.span.Width() <= 0 {
		return false
	}
	lost := w.lostWays()
	if len(lost) == 0 {
		return false
	}
	told, ok := w.stopsFollowStands(w.pressings(0), lost)
	if !ok {
		return false
	}
	first, sum := lost[0], 0.0
	f := Finding{Kind: LastingLeap, Form: leapStood, Tie: TiedToTime, TieP: 1, Seen: len(lost), Passes: len(lost), Event: "leap", Strength: 0.9,
		Time: Interval{first.at, w.t[len(w.t)-1]}, Volts: noInterval()}
	for _, s := range lost {
		sum += math.Abs(s.size)
		f.Volts = f.Volts.widen(s.from).widen(s.to)
		f.Places = append(f.Places, Occurrence{Interval{w.t[s.first], w.t[s.last]}, Interval{math.Min(s.from, s.to), math.Max(s.from, s.to)}, None})
	}
	f.Measures = []Measure{{MeasureStep, sum / float64(len(lost)), w.unit()}, {stopsMoved, float64(told), ""}}
	w.found = append(w.found, f)
	w.joinLeap(f)
	return true
}

// lostWays lists the ways that a shaft would have made in the stands of its reading amid
// a move, in order of time, as steps that the reading lags by.
func (w *work) lostWays() (out []offset) {
	for i := range w.events {
		e := &w.events[i]
		lost := e.expected - e.moved
		if e.place != middle || e.shift >= 0 || e.out() > w.tol || lost <= 2*e.spread || w.leavesStop(e) || w.madeUp(&w.moves[e.move]) {
			continue
		}
		out = append(out, offset{at: w.t[e.first], size: -float64(w.moves[e.move].Direction) * lost, err: math.Hypot(waySpread*e.expected, e.spread),
			from: e.from, to: e.to, first: e.first, last: min(e.last, len(w.t)-1)})
	}
	slices.SortFunc(out, func(a, b offset) int { return a.first - b.first })
	return out
}

// stopsFollowStands tells whether both stops shift by the ways lost between their visits,
// and by nothing where there are none. It counts the pairs of visits that tell.
func (w *work) stopsFollowStands(stops [2][]pressing, lost []offset) (told int, ok bool) {
	const sigmas = 3
	least := stopGives * w.span.Width()
	var sides [2]bool
	for d, v := range stops {
		for i := 1; i < len(v); i++ {
			change := v[i].level - v[i-1].level
			want, err := 0.0, 0.0
			for _, s := range lost {
				if s.at > v[i-1].at && s.at <= v[i].at {
					want, err = want+s.size, math.Hypot(err, s.err)
				}
			}
			off := math.Hypot(sigmas*err, math.Max(least, sigmas*math.Hypot(v[i].err, v[i-1].err)))
			clear := math.Abs(want) > 2*err && math.Abs(change) > least && want*change > 0
			// Outward a shifted wiper may reach the end of its track before the stop: the
			// reading goes further than before, and not as far as it would.
			out := float64(w.moves[v[i].move].Direction)
			switch {
			case math.Abs(change-want) <= off, clear && out*change > 0 && math.Abs(change) < math.Abs(want):
				if clear {
					told++
					sides[d] = true
				}
			default:
				return 0, false
			}
		}
	}
	return told, sides[0] && sides[1]
}
