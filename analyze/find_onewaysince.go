package analyze

import (
	"fmt"
	"math"
)

// oneWaySince is the form of a drive one way only that was driven both ways before.
const oneWaySince = "one way since then"

// drivenAwayNext is the name of a measure: how often, before, the shaft came to the stop that is
// pressed since, and was driven away from there next.
const drivenAwayNext = "driven away from that stop next"

// findOneWaySince reports a polarity that comes no more: from its last drive on the shaft is
// driven the other way only, to a stop, and again and again into it although it lies there,
// until the capture ends. Whoever wants a place beyond that stop does the same, so it must
// lie where it lay before, and have been enough then: each time the shaft was driven away
// from it next, and that went.
func (w *work) findOneWaySince() {
	const many = 5 // presses; fewer may be made to be sure, as in pressesOneStop
	wanted := w.commands()
	n := len(wanted)
	if n <= many {
		return
	}
	pol, at := wanted[n-1].Polarity, wanted[n-1].End
	near := math.Max(4*w.tol, w.lim.EndZone*w.span.Width())
	lies := func(x float64) bool { return math.Abs(x-at) <= near }
	pressed := func(m *Move) bool { return m.Polarity == pol && lies(m.Start) && lies(m.End) }
	since := n
	for since > 0 && pressed(wanted[since-1]) {
		since--
	}
	f := Finding{Kind: HalfDrive, Form: oneWaySince, Tie: TieUnknown, TieP: 1, Event: "one-sided", Seen: n - since, Passes: n - since}
	if f.Seen < many || since == 0 || wanted[since-1].Polarity != pol || !lies(wanted[since-1].End) {
		return // its first drive goes there
	}
	left := 0
	for k, m := range wanted[:since-1] {
		switch next := wanted[k+1]; {
		case pressed(m):
			return // insisted upon before, and yet left again
		case m.Polarity == pol && lies(m.End) && m.Stalled > 0 && next.Polarity != pol && math.Abs(next.End-at) > w.span.Width()/2:
			left++
		}
	}
	if left == 0 {
		return
	}
	f.Time = Interval{wanted[since].Time.From, wanted[n-1].Time.To}
	f.Volts = Interval{at, at}
	f.Strength = 1 - math.Exp(-float64(f.Seen)/2)
	f.Measures = []Measure{{"drives into the stop it lies on", float64(f.Seen), ""}, {drivenAwayNext, float64(left), ""}}
	w.found = append(w.found, f)
}

// titleOneWaySince says since when it is driven one way only.
func (f *Finding) titleOneWaySince() string {
	return fmt.Sprintf("Driven one way only from %.1f s on: %s into the stop on which it lies. Before, it was driven away from there at once.", f.Time.From, counted(f.Seen, "drive"))
}

// oneWaySinceLikelihood is that of a polarity that comes no more. A sound control that sweeps
// has no reason to; one that goes to targets may have had one at that stop, and has one
// beyond it now.
func oneWaySinceLikelihood(f *Finding) (shown, string) {
	good := .03
	if f.value(drivenAwayNext) > 1 {
		good = .015
	}
	return shown{good, .01, .005, .02, .3}, "it is driven into the stop on which it lies, again and again, and the other way no more, which came and was answered before: a leg of the drive that died in between, or a control that now wants a place beyond that stop"
}
