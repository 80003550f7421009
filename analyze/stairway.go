package analyze

import (
	"math"
	"slices"
)

// findStairway reports a way that the reading takes in leaps with stands between,
// whole passes long: no stretch of it tracks, so there is no event to be judged, and
// neither speed nor span to be had of what tracks. Friction lets the shaft go when
// gears and linkage have wound up enough, so each leap is as long as the stand before
// it, at one pace; a track that holds does so at its own few places.
func (w *work) findStairway() {
	const (
		byLeaps = 0.7  // least share of the way that they take
		even    = 2.5  // a leap over its stand, against the usual
		passes  = 2    // one pass may be chance
		crossed = 0.15 // least way of a pass, of the sensor's range
	)
	if w.sense == 0 {
		return
	}
	if w.mostlyTracked() {
		return
	}
	var all []stair
	leaps := w.allLeaps()
	made, seen, dirs, span := 0, 0, [2]int{}, noInterval()
	for k := range w.moves {
		m := &w.moves[k]
		net := float64(m.Direction) * (m.End - m.Start)
		if m.Direction == None || net < crossed*w.ref {
			continue
		}
		made++
		steps, sum, back := stairsOf(leaps, k, m.Direction)
		if sum < byLeaps*net || back > (1-byLeaps)*sum || len(steps)+1 < leastStairs {
			continue
		}
		seen++
		dirs[side(m.Direction)]++
		all = append(all, steps...)
		span = span.widen(m.Start).widen(m.End)
	}
	if seen < passes || 3*seen < 2*made || w.heldByClock() {
		return
	}
	var paces []float64
	for _, s := range all {
		paces = append(paces, s.pace)
	}
	usual, alike := medianOf(paces), 0
	for _, p := range paces {
		if p < even*usual && p > usual/even {
			alike++
		}
	}
	if 3*alike < 2*len(paces) {
		return
	}
	w.span = span
	f := Finding{Kind: StickSlip, Form: springsOn, Volts: span, Time: w.drivenTime(), Seen: len(all), Passes: seen,
		Direction: oneDirection(dirs), Tie: TieUnknown, TieP: 1, Event: stairway, Strength: 1 - math.Exp(-float64(seen))}
	longest := 0.0
	for _, s := range all {
		longest = math.Max(longest, s.at.Time.Width())
		f.Places = append(f.Places, s.at)
	}
	f.Measures = []Measure{{MeasureLongestStand, longest, "s"}, {"stands", float64(len(all)), ""}}
	w.found = append(w.found, f)
}

// stair is a stand and the leap that ends it.
type stair struct {
	at   Occurrence
	pace float64 // V/s, of the leap over the stand
}

// mostlyTracked tells whether half of the way is tracked: then it is not all leaps.
func (w *work) mostlyTracked() bool {
	way, tracked := 0.0, 0.0
	for k := range w.moves {
		m := &w.moves[k]
		way += math.Abs(m.End - m.Start)
		for _, g := range m.segs {
			if g.state == track {
				tracked += math.Abs(w.smooth[g.last-1] - w.smooth[g.first])
			}
		}
	}
	return 2*tracked > way
}

// stairsOf are the stairs of move k, with the way in V that its leaps take forward
// and back.
func stairsOf(leaps []leap, k int, dir Direction) (steps []stair, forward, back float64) {
	from := math.NaN()
	for _, l := range leaps {
		if l.move != k || !l.moving {
			continue
		}
		size := float64(dir) * (l.after - l.before)
		if size < 0 {
			back -= size
			continue
		}
		forward += size
		// What it stood before the first leap began in an earlier move.
		if !math.IsNaN(from) {
			steps = append(steps, stair{Occurrence{Interval{from, l.at}, Interval{l.before, l.before}, dir}, size / (l.at - from)})
		}
		from = l.at
	}
	return steps, forward, back
}

// stairway is the event of a way that is all leaps and stands.
const stairway = "stairway"

// joinStairway leaves what else such a way looks like to the friction that made it.
func (w *work) joinStairway() {
	if !slices.ContainsFunc(w.found, func(f Finding) bool { return f.Event == stairway }) {
		return
	}
	// A stand of the stairs that the drive's end cut short is no stall.
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
		switch f.Kind {
		case Jam, Pauses, NoisyTrack, BentTrack, BentLine, SlowZone:
			return true
		}
		return false
	})
	w.overrule(stairway, Dropouts, DeadSpot, NoisyTrack, BentTrack, BentLine, EndLoss, SlowZone, GearTurn, WeakDrive, OneWay, NoMotion, Hunting, LastingLeap, SpanDrift, Play)
}
