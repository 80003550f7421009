package analyze

import (
	"fmt"
	"math"
)

// lowerFromThenOn is the form of a drive that has fewer volts, both ways, from one moment
// between two drives to the end.
const lowerFromThenOn = "drive, from one moment on"

// findLowerFromThenOn reports a drive that got full volts both ways, and from one rest on
// fewer of them, both ways alike and for ways as long: a control that turns its drive down
// does so before a target or for a small correction.
func (w *work) findLowerFromThenOn() {
	const (
		alike = 0.05 // of the volts, what drives of one level differ by under other loads (chosen, not derived)
		least = 0.2  // of the volts, that are lost: a fuse, a switch and wires cost less than half of it
	)
	if !w.driveKnown() || w.d.pulsed || w.sure(SupplySag) || w.d.amp < 2 {
		return
	}
	var drives []int
	var volts []float64
	for k := range w.moves {
		m := &w.moves[k]
		if m.last-m.first < 5 || m.Duration() < 0.5 {
			continue
		}
		x := sizes(w.d.mean[m.first+1 : m.last-1])
		// One level over the whole drive.
		if quantileIn(x, 0.9) > (1+alike)*quantileIn(x, 0.1) {
			return
		}
		drives, volts = append(drives, k), append(volts, medianIn(x))
	}
	// Only the first drive that has so much less than all before it can be the moment.
	j, lo := 0, math.Inf(1)
	for ; j < len(volts) && (j == 0 || volts[j] > (1-least)*lo); j++ {
		lo = math.Min(lo, volts[j])
	}
	if j < 2 || j+2 > len(drives) || !w.bothWaysFar(drives[:j]) || !w.bothWaysFar(drives[j:]) {
		return
	}
	lo, hi := extremes(volts[:j])
	low, high := extremes(volts[j:])
	if hi > (1+alike)*lo || high > (1+alike)*low || high > (1-least)*lo {
		return
	}
	before, after := medianOf(volts[:j]), medianOf(volts[j:])
	first := &w.moves[drives[j]]
	w.found = append(w.found, Finding{Kind: SupplySag, Form: lowerFromThenOn, Tie: TiedToTime, TieP: 1, Event: "supply", Seen: len(drives) - j, Passes: len(drives) - j,
		Time: Interval{first.Time.From, w.t[len(w.t)-1]}, Strength: math.Min(1, (1-after/before)/0.25),
		Measures: []Measure{{MeasureLevelUnderLoad, after, "V"}, {MeasureDropUnderLoad, 100 * (1 - after/before), "%"}, {MeasureLevelBefore, before, "V"}}})
}

// bothWaysFar tells whether drives went both ways, and one of them half of the travel.
func (w *work) bothWaysFar(drives []int) bool {
	ways, far := map[Direction]bool{}, false
	for _, k := range drives {
		m := &w.moves[k]
		ways[m.Direction] = true
		far = far || m.Travel() > 0.5*w.span.Width()
	}
	return ways[Up] && ways[Down] && far
}

// titleLowerFromThenOn says what was measured of it.
func (f *Finding) titleLowerFromThenOn() string {
	return fmt.Sprintf("From %.1f s on the motor gets %.1f V, both ways, %.0f %% less than the %.1f V before.", f.Time.From, f.value(MeasureLevelUnderLoad), f.value(MeasureDropUnderLoad), f.value(MeasureLevelBefore))
}
