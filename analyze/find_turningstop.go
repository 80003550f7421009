package analyze

import (
	"fmt"
	"math"
	"slices"
)

// Gears that let go under load, without stopping the motor, tell it at the stops by the
// current: a motor that is held draws there what it draws in the first moment of a start.
// Copper that warms takes a tenth or two of that, and a control or a fuse that cuts the
// current back lets it rise first.
const (
	// letsGoBelow is the share of the current of a start below which a motor at a stop
	// turns on: at less than two thirds of the torque it has when it is held.
	letsGoBelow = 0.65

	// letsGoPeak is the most of it that single rows at such a stop show, beside the
	// ripple of the brushes; a motor that was held for a moment shows all of it.
	letsGoPeak = 0.85
)

// findTurningStop looks at the current of the two outermost stops: where it
// stays well below the other's, or below that of a start, nothing blocks the
// motor and the gears turn without the output.
func (w *work) findTurningStop(stalls []stall) {
	at := map[Direction][]stall{}
	near := w.stallsApart()
	for i := range w.stops {
		s := &w.stops[i]
		if !s.Extreme {
			continue
		}
		for _, x := range stalls {
			if w.moves[x.move].Direction == s.Direction && math.Abs(x.level-s.Level) < near {
				at[s.Direction] = append(at[s.Direction], x)
			}
		}
	}
	for _, dir := range []Direction{Down, Up} {
		letsGo := w.letsGo(at[dir])
		if len(at[dir]) == 0 || w.covered(Jam, dir) || w.covered(GearSlip, dir) || !letsGo && !w.turnsUnseen(at[dir], at[-dir]) {
			continue
		}
		// A motor that was blocked there once is stopped by something: what it draws
		// less at other times the control turned down.
		if run := w.runningCurrent(); !letsGo && slices.ContainsFunc(at[dir], func(x stall) bool { return w.standCurrent([]stall{x}, nil) > 1.4*run }) {
			continue
		}
		f := Finding{Kind: GearSlip, Form: motorTurns, Direction: dir, Tie: TiedToPosition, TieP: 1, Seen: len(at[dir]), Passes: len(at[dir]),
			Event: fmt.Sprintf("stall %s", dir), Strength: 1 - math.Exp(-float64(len(at[dir])))}
		f.Time, f.Volts = noInterval(), noInterval()
		for _, x := range at[dir] {
			f.Time = f.Time.widen(x.at).widen(x.at + x.seconds)
			f.Volts = f.Volts.widen(x.level)
			f.Places = append(f.Places, Occurrence{Interval{x.at, x.at + x.seconds}, Interval{x.level, x.level}, dir})
		}
		w.found = append(w.found, f)
	}
}

// letsGo tells whether the motor turned on in all of the given stands at a stop, under
// more load than on its way.
func (w *work) letsGo(stands []stall) bool {
	if w.tr.Current == nil || !w.driveKnown() || w.d.pulsed || len(stands) == 0 {
		return false
	}
	idle := w.idleCurrent()
	start := w.startToward(w.moves[stands[0].move].Direction) - idle
	seconds := 0.0
	for _, s := range stands {
		amps := w.currentWithin(s.at+w.lim.StallSeconds, s.at+s.seconds-w.lim.StallSeconds)
		if math.IsNaN(amps) {
			continue // too short to tell
		}
		if !(amps-idle < letsGoBelow*start) || amps-idle < w.runningCurrent()-idle || w.currentPeak(s)-idle > letsGoPeak*start {
			return false
		}
		seconds += s.seconds
	}
	return seconds > 1 // s: more than the time in which a door's seals press back
}

// currentPeak is the most current that three rows in a row show while a shaft comes to
// its stand and stands.
func (w *work) currentPeak(s stall) float64 {
	c, most := w.tr.Current, 0.0
	low := func(i int) float64 { return math.Abs(float64(c.Mean[i])) }
	m := &w.moves[s.move]
	from := max(m.first, indexAt(w.t, s.at-w.lim.StallSeconds))
	if up := indexAt(w.t, m.Time.From+2*w.lim.StallSeconds); from < up {
		from = up // the start itself
	}
	for i := from; i+2 < m.last && w.t[i+2] < s.at+s.seconds; i++ {
		most = math.Max(most, math.Min(low(i), math.Min(low(i+1), low(i+2))))
	}
	return most
}
