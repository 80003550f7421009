package analyze

import (
	"math"
	"slices"
)

// What a motor that is held draws is its volts over its resistance, wherever it is
// held: at a stop, and for a moment at each start from rest, before it turns. A motor
// that turns draws what its load takes, in proportion to the torque.

// blockedCurrent is the unsigned current of this motor while its shaft is held, at full
// drive: the most that a stand outside some moves shows, or the usual first moment of
// starts from rest where that is more. NaN where neither was seen. Rows too few for an
// inrush show less of it, never more.
func (w *work) blockedCurrent(skip map[int]bool) float64 {
	most := w.startCurrent()
	for _, s := range w.stallsOf() {
		if skip[s.move] {
			continue
		}
		most = larger(most, w.currentWithin(s.at+w.lim.StallSeconds, s.at+s.seconds-w.lim.StallSeconds))
	}
	return most
}

// startCurrent is the usual height of the current in the first moment of starts from
// rest, as it would be at full drive; NaN where fewer than two were seen. A motor that is
// reversed while it turns, or before its current has died away, draws more.
func (w *work) startCurrent() float64 {
	return w.startsOf(func(*Move) bool { return true })
}

// startToward is that of the starts in one direction, or of all where fewer than two were
// seen that way. The brushes of a motor do not always stand alike to both ways of turning,
// and a channel that has an offset reads one way more and the other less.
func (w *work) startToward(dir Direction) float64 {
	if own := w.startsOf(func(m *Move) bool { return m.Direction == dir }); !math.IsNaN(own) {
		return own
	}
	return w.startCurrent()
}

// startsOf is the start current of the moves that are wanted.
func (w *work) startsOf(wanted func(m *Move) bool) float64 {
	const (
		rest  = 0.2 // s without drive before it
		first = 0.1 // s, longer than such motors take to get up to speed
	)
	c := w.tr.Current
	if c == nil {
		return math.NaN()
	}
	var tops []float64
	for k := range w.moves {
		m := &w.moves[k]
		if !wanted(m) {
			continue
		}
		if from := m.Time.From - rest; from < w.t[0] || k > 0 && w.moves[k-1].Time.To > from {
			continue
		}
		top := math.NaN()
		for i := m.first; i < m.last && lapse(w.t[i], m.Time.From) < first; i++ {
			if v := math.Abs(w.d.mean[i]); v > turnedDown*w.d.amp {
				top = larger(top, math.Abs(float64(c.Mean[i]))*math.Max(1, w.d.amp/v))
			}
		}
		if !math.IsNaN(top) {
			tops = append(tops, top)
		}
	}
	if len(tops) < 2 {
		return math.NaN()
	}
	return medianOf(tops)
}

// currentWithin is the median unsigned current between two times in rows at full drive or
// near it, as it would be at full drive; NaN where fewer than three show it.
func (w *work) currentWithin(from, to float64) float64 {
	c, full := w.tr.Current, w.steadyDrive()
	if c == nil || !(to > from) {
		return math.NaN()
	}
	var x []float64
	for i := indexAt(w.t, from); i < len(w.t) && w.t[i] < to; i++ {
		if f := math.Abs(float64(c.Mean[i])); w.t[i] >= from && !math.IsNaN(f) && full[i] > turnedDown*w.d.amp {
			x = append(x, f*math.Max(1, w.d.amp/full[i]))
		}
	}
	if len(x) < 3 {
		return math.NaN()
	}
	return medianOf(x)
}

// runningToward is the median current at full drive while the reading follows it in a
// direction, starts left out; NaN when unknown. A door's weight makes the two differ.
func (w *work) runningToward(dir Direction) float64 {
	return w.runningOf(func(m *Move) bool { return m.Direction == dir })
}

// drawsAsRunning tells whether a current, of a shaft that stands, is that of a motor that
// turns: no more than it draws on its way in that direction, give or take what a median of
// it is off by, and far less than it draws when it is held. A load that holds a motor
// which was running raises its current at once.
func (w *work) drawsAsRunning(amps float64, dir Direction, skip map[int]bool) bool {
	const (
		asRunning = 1.15 // of a door's load, from place to place
		notHeld   = 0.6  // of the current of a motor that is held; brushes and heat take a tenth or two
	)
	idle := w.idleCurrent()
	run, held := w.runningToward(dir)-idle, w.blockedCurrent(skip)-idle
	// No current at all is an open circuit.
	return amps-idle > noneOfRunning*run && amps-idle < asRunning*run && amps-idle < notHeld*held
}

// noneOfRunning is the share of what a motor draws to run below which it does not turn
// against its own gears: these take at least half of it, the door the rest (common
// practice, no source). What is left is the instrument's or the driver's own.
const noneOfRunning = 0.2

// addHeld adds to the stalls those brief stands, too brief for the reading to tell, in which
// the current shows a motor that is held: it has come up from what the motor drew just before
// more than half of the way to what it draws in the stalls, and to within a fifth of that.
func (w *work) addHeld(stalls, brief []stall) []stall {
	const (
		before   = 0.5  // s
		mostSkew = 0.05 // s, by which the columns of a logger may be apart
	)
	var at []float64
	for _, s := range stalls {
		if c := w.currentWithin(s.at+w.lim.StallSeconds, s.at+s.seconds); !math.IsNaN(c) {
			at = append(at, c)
		}
	}
	if len(at) < 3 {
		return stalls
	}
	held := medianOf(at)
	for _, s := range brief {
		ran := w.currentWithin(math.Max(s.at-before, w.moves[s.move].Time.From+before), s.at-w.lim.StallSeconds)
		if c := w.currentWithin(s.at+mostSkew, s.at+s.seconds); s.arrived && c > asHeld*held && c > (ran+held)/2 {
			s.current = true
			stalls = append(stalls, s)
		}
	}
	slices.SortFunc(stalls, func(a, b stall) int { return a.move - b.move })
	return stalls
}
