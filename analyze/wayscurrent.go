package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
)

// A motor at given volts runs at a speed n = n0 (1 - I/Is): I is what it draws to run, in
// proportion to its load, and Is what it draws when it is held, its volts over the
// resistance of its circuit. So the current tells what makes one way slower: a door that
// drags or weighs raises I that way and leaves Is alone; brushes change Is, or n0, by the
// sense in which they are run.

// Forms of a slower way that no load makes.
const (
	heldOnLess = "held on less current that way"
	noLoadMore = "on no more current"
)

const (
	// heldLess is the share of the current of a held motor below which its circuit has
	// another resistance: stands at two sound stops differ by a fifth, see heldAtStops, and
	// a contact or brushes take three tenths, see findFeedResists.
	heldLess = 0.7

	// heldUneven is how many times as slow such a way is at least: more than the tenth by
	// which gears, tracks and the pulse of a supply make the speed differ.
	heldUneven = 1.1

	// unloadedUneven is how many times as slow a way is at least that no current explains.
	// A good motor keeps two thirds of its speed on its door: a load that costs more shows
	// in any current that shows loads at all.
	unloadedUneven = heavyDoor

	// loadShows is how many times the running current a held motor draws at least, for a
	// channel of which one may expect that it shows a load.
	loadShows = 1.5
)

// notByLoad tells by the current whether something else than load makes a way slower by
// a ratio: the form of it, or "" where the current leaves that open or was not logged.
func (w *work) notByLoad(slow Direction, ratio float64, runs int) (form string, ms []Measure) {
	if w.tr.Current == nil || w.oneLead || runs < 2 && ratio < w.soundUneven() || w.covered(GearSlip, None) || w.covered(GearSlip, slow) || w.covered(GearSlip, -slow) {
		return "", nil
	}
	idle := w.idleCurrent()
	run, back := w.runningToward(slow)-idle, w.runningToward(-slow)-idle
	held, other := w.heldToward(slow)-idle, w.heldToward(-slow)-idle
	blocked := w.blockedCurrent(nil) - idle
	if !(run > 0 && back > 0 && blocked > loadShows*run) {
		return "", nil
	}
	// Teeth or foam that give at one stop hold the motor less there, and cost no speed on
	// the way: of what so much resistance costs, half must be there.
	if q := held / other; q < heldLess && ratio >= math.Max(heldUneven, 1+(speedsByCurrent(run, held, back, other)-1)/2) {
		return heldOnLess, []Measure{{heldThatWay, q, ""}}
	}
	if math.IsNaN(held) || math.IsNaN(other) {
		held, other = blocked, blocked
	}
	// What the load explains is the lesser part.
	if due := speedsByCurrent(run, held, back, other); ratio >= unloadedUneven && due < 1+(ratio-1)/3 {
		return noLoadMore, []Measure{{runsThatWay, run / back, ""}}
	}
	return "", nil
}

// Measures of a slower way.
const (
	heldThatWay = "current held that way over the other way"
	runsThatWay = "current running that way over the other way"
)

// speedsByCurrent is how many times as slow as another way one is by its running current and
// that of the held motor, at the same volts; infinite where it would not turn.
func speedsByCurrent(run, held, back, other float64) float64 {
	if run >= held {
		return math.Inf(1)
	}
	return (1 - back/other) / (1 - run/held)
}

// heldToward is the usual unsigned current, as at full drive, of a motor held at the
// outermost stop of a direction; NaN where fewer than two stands show it, or where they do
// not show the same.
func (w *work) heldToward(dir Direction) float64 {
	const same = 0.1 // of it: heat, a supply that goes up or down
	near := w.stallsApart()
	var x []float64
	for i := range w.stops {
		stop := &w.stops[i]
		if !stop.Extreme || stop.Direction != dir {
			continue
		}
		for _, s := range w.stallsOf() {
			if w.moves[s.move].Direction != dir || math.Abs(s.level-stop.Level) > near || w.inLimitCycle(s.move) {
				continue
			}
			from, to := s.at+w.lim.StallSeconds, s.at+s.seconds-w.lim.StallSeconds
			if a := w.currentWithin(from, to); !math.IsNaN(a) {
				x = append(x, a)
			}
		}
	}
	if len(x) < 2 || stats.MAD(x) > same*medianOf(x) {
		return math.NaN()
	}
	return medianOf(x)
}

// notByLoadTitle adds to the words for a slower way what its current tells.
func (f *Finding) notByLoadTitle() string {
	if q, ok := f.Measure(heldThatWay); ok {
		return fmt.Sprintf("; held at the stop it draws %.0f %% of what it draws at the other", 100*q)
	}
	if q, ok := f.Measure(runsThatWay); ok {
		return fmt.Sprintf(", on %.0f %% of the other way's current", 100*q)
	}
	return ""
}
