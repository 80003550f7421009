package analyze

import (
	"fmt"
	"math"
)

// runsDown is the form of a drive that loses its volts on and on, both ways, through rests
// and drives alike.
const runsDown = "drive, on and on"

// runsDownAlike is what the volts of one level differ by, as a share of them, as the load
// and so the feed's own loss change (chosen, not derived; as for [lowerFromThenOn]).
const runsDownAlike = 0.05

// findRunsDown reports a drive that got full volts both ways, lost more of them than any
// battery loses from charged to empty, and got none of them back, neither by a rest nor by
// turning over: a control that turns its drive down before a target gives full volts to the
// next, and what the motor's current takes is back with the next start. A heating that its
// loss of volts explains is joined to it: see [work.slowedByVolts] for how much that is.
func (w *work) findRunsDown() {
	if !w.driveKnown() || w.d.pulsed || w.slows > 0 || w.has(SupplySag) || w.d.amp < 2 {
		return
	}
	drives, at, volts := w.endsOfDrives()
	if len(drives) < 4 {
		return
	}
	lo := volts[0]
	for _, v := range volts {
		if v > (1+runsDownAlike)*lo {
			return // up again
		}
		lo = math.Min(lo, v)
	}
	first, last := volts[0], volts[len(volts)-1]
	q := 1 - last/first
	if q < 1-emptyVolts/chargedVolts {
		return
	}
	// Both ways full, and both ways low: one leg alone is another fault.
	var full, low []int
	middle, from := (first+last)/2, math.NaN()
	for i, k := range drives {
		if volts[2*i] > middle {
			full = append(full, k)
		}
		if volts[2*i+1] < middle {
			low = append(low, k)
		}
	}
	if !w.bothWaysFar(full) || !w.bothWaysFar(low) {
		return
	}
	for i, v := range volts {
		if v > (1-runsDownAlike)*first {
			from = at[i]
		}
	}
	w.found = append(w.found, Finding{Kind: SupplySag, Form: runsDown, Tie: TiedToTime, TieP: 1, Event: "supply", Seen: len(low), Passes: len(drives),
		Time: Interval{from, w.t[len(w.t)-1]}, Strength: math.Min(1, q/0.25),
		Measures: []Measure{{MeasureLevelUnderLoad, last, "V"}, {MeasureDropUnderLoad, 100 * q, "%"}, {MeasureLevelBefore, first, "V"}}})
	for i := range w.found {
		f := &w.found[i]
		if change, ok := f.Measure(changeOfSpeed); f.Kind == Heating && ok && -change/100 < q/(1-q) {
			f.Event, f.Strength = "supply", 0.2*f.Strength
		}
	}
}

// endsOfDrives lists the drives of half a second or more, and the time and the volts of
// the first and of the last quarter of each.
func (w *work) endsOfDrives() (drives []int, at, volts []float64) {
	for k := range w.moves {
		m := &w.moves[k]
		n := (m.last - m.first - 2) / 4
		if n < 2 || m.Duration() < 0.5 {
			continue
		}
		for _, a := range []int{m.first + 1, m.last - 1 - n} {
			at = append(at, w.t[a+n/2])
			volts = append(volts, math.Abs(medianOf(w.d.mean[a:a+n])))
		}
		drives = append(drives, k)
	}
	return drives, at, volts
}

// runsDownTitle says what was measured of it.
func (f *Finding) runsDownTitle() string {
	return fmt.Sprintf("The motor's volts go down on and on, both ways, from %.1f V to %.1f V, by %.0f %%; no rest brings them back.", f.value(MeasureLevelBefore), f.value(MeasureLevelUnderLoad), f.value(MeasureDropUnderLoad))
}
