package analyze

import (
	"fmt"
	"math"
)

const (
	// longHeld is how long, in s, a control at most keeps a motor pressed into a stop
	// before it lets go; most wait for a second or two (common practice, no source).
	longHeld = 20
	// heldOverUsual is how many times as long as at any other stop of the capture, or
	// as the way from end to end takes, a drive that does not let go is held.
	heldOverUsual = 4
)

// heldBefore is the measure of how long it was held at other times, at the most.
const heldBefore = "held at other times, at most"

// findStaysOn reports a motor that is pressed into a stop up to the end of the capture,
// far longer than a control takes to give up and than it was at any other time: the
// control, or a driver whose contact sticks, does not let go. Pulses that hold a door
// are no such drive.
func (w *work) findStaysOn() {
	n := len(w.moves)
	if n < 2 || w.d.pulsed {
		return
	}
	last, usual, way := &w.moves[n-1], 0.0, 0.0
	for k := range w.moves[:n-1] {
		m := &w.moves[k]
		usual, way = math.Max(usual, m.Stalled), math.Max(way, m.Duration()-m.Stalled)
	}
	held := last.Stalled
	still := lapse(w.t[len(w.t)-1], last.Time.To)
	if last.Direction == None || still > 2*w.tr.Step || held < longHeld || held < heldOverUsual*usual || held < way || math.Abs(last.DriveMean) < 0.8*w.d.amp {
		return
	}
	w.found = append(w.found, Finding{Kind: StaysOn, Tie: TiedToTime, TieP: 1, Time: Interval{last.Time.To - held, last.Time.To},
		Volts: Interval{last.End, last.End}, Direction: last.Direction, Seen: 1, Passes: 1, Event: "stays on",
		Strength: 1 - math.Exp(-2*held/longHeld),
		Measures: []Measure{{MeasureHeld, held, "s"}, {heldBefore, usual, "s"}}})
}

func (f *Finding) titleStaysOn() string {
	s := fmt.Sprintf("The drive does not let go: pressed into a stand for %.0f s, up to the end of the capture", f.value(MeasureHeld))
	if usual := f.value(heldBefore); usual >= 0.1 {
		s += fmt.Sprintf(", where at other times it was held for %.1f s at most", usual)
	}
	return s + "."
}

func staysOnLikelihood(f *Finding) (shown, string) {
	before := ""
	if f.value(heldBefore) >= 0.1 {
		before = ", and so it did before"
	}
	return shown{.015, .015, .01, .015, .3}, "a control lets go of a stop within seconds" + before + "; this drive stays on: a control or a driver that sticks, unless somebody left a bench switch on"
}
