package analyze

import "fmt"

// fewerSince is the measure of one polarity that had as many volts as the other at first:
// the moment from which on it has fewer, in s.
const fewerSince MeasureName = "fewer from that moment on"

// findOnePolaritySince reports one polarity that gets far fewer volts from some drive on, or
// from the midst of one, and in all of its drives after it, while the other keeps its own
// between them: neither the supply, which feeds both, nor a control, which sets its volts by
// the target, loses those of one way alone for good. findOnePolarity asks for them in every
// drive.
func (w *work) findOnePolaritySince() {
	const (
		least = 0.5  // s of running, or of being held, that tell a move's volts
		same  = 0.15 // of the volts, within one polarity: what the load does to them
	)
	if !w.driveKnown() || w.d.pulsed || w.sense == 0 || w.has(SupplySag) {
		return
	}
	var drives [2][]int
	volts := map[int]float64{}
	for k := range w.moves {
		m := &w.moves[k]
		if m.last-m.first < 5 || m.Duration() < least {
			continue
		}
		p := 0
		if m.Polarity > 0 {
			p = 1
		}
		drives[p], volts[k] = append(drives[p], k), medianIn(sizes(w.d.mean[m.first+1:m.last-1]))
	}
	var of [2][]float64
	for p := range drives {
		for _, k := range drives[p] {
			of[p] = append(of[p], volts[k])
		}
	}
	for lo := range of {
		if len(of[lo]) == 0 || len(of[1-lo]) == 0 {
			continue
		}
		// The other way holds all the time, and the full drives of this one are as high.
		from, to := extremes(of[1-lo])
		j := 0
		for j < len(of[lo]) && of[lo][j] > (1-same)*to {
			j++
		}
		if j == 0 || j == len(of[lo]) || from < (1-same)*to {
			continue
		}
		low, high := extremes(of[lo][j:])
		since := drives[lo][j:]
		if low < (1-same)*high || high > mostSetLower*from || to-high < 2*mostSwitchLoses || !w.thereAndBetween(since, drives[1-lo]) {
			continue
		}
		f := Finding{Kind: SupplySag, Form: onePolarity, Direction: Direction(2*lo-1) * Direction(w.sense), Tie: TiedToTime, TieP: 1,
			Volts: w.span, Time: Interval{w.moves[since[0]].Time.From, w.t[len(w.t)-1]}, Seen: len(since), Passes: len(since), Event: "uneven ways",
			Strength: 1, Measures: []Measure{{MeasureLevelThatWay, medianOf(of[lo][j:]), "V"}, {MeasureLevelOtherWay, medianOf(of[1-lo]), "V"}}}
		f.Measures = append(f.Measures, Measure{farFewerVolts, 100 * (1 - high/from), "%"}, Measure{fewerSince, f.Time.From, "s"})
		w.found = append(w.found, f)
		return
	}
}

// thereAndBetween tells whether drives of one polarity are four at least and go half of the
// travel together, and whether the other polarity is driven between them, so that it
// is seen to hold after some of them as before.
func (w *work) thereAndBetween(drives, others []int) bool {
	const few = 4 // a control may make two or three corrections softly (chosen, not derived)
	if len(drives) < few {
		return false
	}
	way := 0.0
	for _, k := range drives {
		way += w.moves[k].Travel()
	}
	between := false
	for _, k := range others {
		between = between || k > drives[1] && k < drives[len(drives)-2]
	}
	return between && way > 0.5*w.span.Width()
}

// sinceThen says from when on one polarity has fewer volts.
func (f *Finding) sinceThen() string {
	if at, ok := f.Measure(fewerSince); ok {
		return fmt.Sprintf("From %.1f s on, driven", at)
	}
	return "Driven"
}
