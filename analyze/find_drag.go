package analyze

import "math"

// A permanent-magnet motor's current is in proportion to its torque: what it draws to run
// over what it draws when it is held, at the same volts, is the share of its stall torque
// that its load takes. That needs no profile of a good one. A good actuator's own gears
// ask for 5 to 25 %, and with its door for up to half of it in the heavier direction
// (common practice, no source). More than half with nothing on the shaft is drag in the
// gears or the motor; more than 55 % with the door, in the direction in which it goes
// more easily, is drag in either.
const (
	dragAlone   = 0.5
	dragCoupled = 0.55

	// dragGrows takes a share from nothing at the limit to full strength where four
	// fifths or more of the stall torque are gone: what a good one draws differs from
	// maker to maker, and at the limit it may be one of those. Chosen, not derived.
	dragGrows = 3
)

// nothingOnShaft is the form of drag that is the actuator's own.
const nothingOnShaft = "with nothing on the shaft"

// torqueShare is the measure of that share.
const torqueShare = "running current over the current when held"

// findHeavyDrag reports an actuator that takes more of its motor's torque than a good one.
func (w *work) findHeavyDrag() {
	if w.tr.Current == nil || w.d.pulsed || w.covered(GearSlip, None) || w.covered(GearSlip, Up) || w.covered(GearSlip, Down) || w.covered(Broken, None) {
		return
	}
	held, stands := w.heldAtStops()
	idle := w.idleCurrent()
	torque := func(dir Direction) float64 { return (w.runningToward(dir) - idle) / (held - idle) }
	// On the door the other way may be the easier one: both must have been seen.
	least, form, share := dragCoupled, "", math.Min(torque(Down), torque(Up))
	if w.opt.Free {
		least, form, share = dragAlone, nothingOnShaft, lesser(torque(Down), torque(Up))
	}
	// A motor that runs so near to its stall is slow; what draws as much as at the stop
	// was not told apart from it.
	if !(share > least && share < 0.95) {
		return
	}
	w.found = append(w.found, Finding{
		Kind: HeavyDrag, Form: form, Volts: w.span, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "slower", Seen: stands, Passes: stands,
		Strength: math.Min(0.95, dragGrows*(share-least)),
		Measures: []Measure{{torqueShare, share, ""}, {"running current", w.runningCurrent(), "A"}, {"current when held", held, "A"}},
	})
}

// heldAtStops is the unsigned current, as at full drive, of a motor held at the outermost
// stops, with the number of stands; NaN where it is not sure to be that of its winding.
func (w *work) heldAtStops() (amps float64, stands int) {
	near := w.stallsApart()
	var x []float64
	for i := range w.stops {
		stop := &w.stops[i]
		for _, s := range w.stallsOf() {
			if w.goesOnAsleep(s.move) {
				continue // its drive is less than it looks, and so is what it draws
			}
			if !stop.Extreme || w.moves[s.move].Direction != stop.Direction || math.Abs(s.level-stop.Level) > near || w.inLimitCycle(s.move) {
				continue
			}
			from, to := s.at+w.lim.StallSeconds, s.at+s.seconds-w.lim.StallSeconds
			if a := w.currentWithin(from, to); !math.IsNaN(a) {
				if w.currentClips(from, to) {
					return math.NaN(), 0
				}
				x = append(x, a)
			}
		}
	}
	if len(x) == 0 {
		return math.NaN(), 0
	}
	amps = medianOf(x)
	// The stops hold it alike, or one of them does not hold it at all; and where a start
	// shows more, a supply or a driver limits the current at the stops.
	lo, hi := extremes(x)
	if start := w.startCurrent(); lo < 0.8*hi || amps < 0.85*start || w.limitedCurrent(amps) {
		return math.NaN(), 0
	}
	return amps, len(x)
}

// currentClips tells whether the current's channel ends at what flows between two times.
func (w *work) currentClips(from, to float64) bool {
	c := w.tr.Current
	n, at := 0, 0
	for i := indexAt(w.t, from); i < len(w.t) && w.t[i] < to; i++ {
		n++
		if x := c.Mean[i]; x == float32(c.Stats.Max) || x == float32(c.Stats.Min) {
			at++
		}
	}
	return 2*at > n
}

// limitedCurrent tells whether the current of a stand may be what a bench supply is set to
// at the most: a round number, and the drive's volts, which would have fallen with it,
// were not logged.
func (w *work) limitedCurrent(amps float64) bool {
	const round, near = 0.1, 0.005 // A
	return !w.driveKnown() && w.tr.Current.Unit == "A" && math.Abs(amps-round*math.Round(amps/round)) < near
}
