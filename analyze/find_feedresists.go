package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// findFeedResists reports a motor circuit that from one moment on has more resistance than
// before, or less: a motor that is held draws its volts over that resistance. Heat makes
// copper lose a few percent in a minute; what takes or gives three tenths between one
// stand and the next, and stays, is a contact, a wire or the brushes. A load or weaker
// magnets leave the current of a held motor alone, and an instrument that reads otherwise
// from then on does so while the motor runs as well.
func (w *work) findFeedResists() {
	const (
		few  = 2   // stands before and after
		step = 0.7 // of the current
	)
	if w.tr.Current == nil || w.d.pulsed {
		return
	}
	var at, amps []float64
	for _, s := range w.stallsOf() {
		if x := w.currentWithin(s.at+w.lim.StallSeconds, s.at+s.seconds-w.lim.StallSeconds); !math.IsNaN(x) {
			at, amps = append(at, s.at), append(amps, x)
		}
	}
	idle := w.idleCurrent()
	for k := few; k+few <= len(amps); k++ {
		before, after := amps[:k], amps[k:]
		lo, hi := extremes(before)
		low, high := extremes(after)
		rises := low*step > hi
		if !rises && high > step*lo || stats.MAD(before) > 0.1*medianOf(before) || stats.MAD(after) > 0.1*medianOf(after) {
			continue
		}
		less, more := medianOf(after)-idle, medianOf(before)-idle
		run, was := w.runningBetween(at[k-1], math.Inf(1)), w.runningBetween(math.Inf(-1), at[k-1])
		if rises {
			less, more, run, was = more, less, was, run
		}
		// Running it draws what it drew, or little less: by far nearer to that than to
		// what an instrument would make of it.
		if ratio := (run - idle) / (was - idle); !(ratio > (1+less/more)/2) || ratio > 1.3 {
			continue
		}
		// From the stand at which it was not yet so to the last, or the other way round.
		setIn := Interval{at[k-1], w.t[len(w.t)-1]}
		if rises {
			setIn = Interval{w.t[0], at[k]}
		}
		f := Finding{Kind: FeedResists, Volts: w.span, Time: setIn, Tie: TiedToTime, TieP: 1, Event: "motor circuit",
			Seen: len(after), Passes: len(amps), Strength: 1 - math.Exp(-float64(min(k, len(amps)-k))),
			Measures: []Measure{{changesAt, (at[k-1] + at[k]) / 2, "s"}, {MeasureHeldCurrentSpread, less / more, ""}, {MeasureRunningCurrentSpread, (run - idle) / (was - idle), ""}}}
		if rises {
			f.Form = resistanceGoes
		}
		if !w.driveKnown() {
			f.Measures = append(f.Measures, Measure{driveUnknown, 1, ""})
		}
		w.found = append(w.found, f)
		return
	}
}

// changesAt is the measure of when it set in, or went.
const changesAt = "about at"

// resistanceGoes is the form of a resistance that was there at first.
const resistanceGoes = "there at first"

// runningBetween is the median unsigned current while the reading follows the drive, in
// moves that begin between two times; NaN for too little.
func (w *work) runningBetween(from, to float64) float64 {
	return w.runningOf(func(m *Move) bool { return m.Time.From >= from && m.Time.From <= to })
}
