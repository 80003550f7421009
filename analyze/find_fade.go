package analyze

import "math"

// A motor that heats through in few sweeps loses far more of its speed than any door's
// load takes that changes: an air stream that comes on raises the running current of a
// sound one from a fifth to a third of its stall current, and so takes a sixth of the
// speed. A quarter is beyond that; a sound motor that warms by 40 K loses a twentieth.
const fadeLoss = 0.25

// fadeOther is the loss that the other direction shows as well, where it was driven more
// than once.
const fadeOther = 0.1

// inFewSweeps is the form of a [Heating] in too few sweeps for a trend, or in the first
// few after which the motor is as warm as it gets.
const inFewSweeps = "in few sweeps"

// fade is what one direction lost of its speed from its first pass on: the logarithm of
// the speed of each pass over the first, where they crossed the same places.
type fade struct {
	at   []float64 // s
	loss []float64
	even bool // the last lost it all along the way
	// By how much more the later ones, in the middle, lost where the first one began than
	// where it ended.
	within float64
}

// findFade reports a motor that is much slower in its last pass than in its first, place
// by place and at the same drive, and was slower with every pass between or stays as slow
// as it got: heat comes fastest while the motor is cold. A step after passes that were
// alike is something else, and so is a pass that is slow among faster ones. Where only the
// polarity of the drive was logged a control may have driven the first passes at full and
// the others at less: that is a step.
func (w *work) findFade() {
	// Where the volts are not known a supply that falls looks the same.
	if !w.driveKnown() && w.tr.Supply == nil || w.d.pulsed || w.slows > 0 {
		return
	}
	f := Finding{Kind: Heating, Form: inFewSweeps, Tie: TiedToTime, TieP: 1, Volts: w.span, Event: "slower", Time: noInterval()}
	most, ways := 0.0, 0
	for d := range 2 {
		x := w.fadeOf(d)
		n := len(x.loss)
		if n == 0 {
			continue
		}
		f.Seen += n
		if f.Time = f.Time.widen(x.at[0]).widen(x.at[n-1]); n < 2 {
			continue
		}
		if !x.falls() || !w.driveKnown() && x.steps() {
			return
		}
		ways++
		most = math.Min(most, x.loss[n-1])
	}
	if f.Seen < 3 || most > math.Log(1-fadeLoss) {
		return
	}
	f.Passes = f.Seen
	// One pair of passes alone may have had another reason.
	f.Strength = 0.75
	if ways == 2 || f.Seen > 4 {
		f.Strength = 0.9
	}
	f.Measures = []Measure{{changeOfSpeed, 100 * (math.Exp(most) - 1), "%"}}
	w.timePasses(&f)
	w.found = append(w.found, f)
}

// fadeOf compares the passes of one direction with the first of them, in three stretches
// of the travel at least.
func (w *work) fadeOf(d int) fade {
	const common = 3
	const alike = 0.1 // of the drive: the speed goes with the volts above those that only start it
	var first map[int]float64
	volts := map[int]float64{}
	var x fade
	var within []float64
	for k := range w.moves {
		m := &w.moves[k]
		if side(m.Direction) != d || m.Direction == None {
			continue
		}
		cells := w.crossings(m, w.span.Width()/paceCells)
		if len(cells) < common {
			continue
		}
		at := (m.Time.From + m.Time.To) / 2
		if first == nil {
			first = map[int]float64{}
			for _, c := range cells {
				first[c.cell] = c.speed
				volts[c.cell], _ = w.meanVolts(c.first, c.last)
			}
			x = fade{at: []float64{at}, loss: []float64{0}}
			continue
		}
		var lost []float64
		for _, c := range cells {
			v, _ := w.meanVolts(c.first, c.last)
			if s, ok := first[c.cell]; ok && math.Abs(v-volts[c.cell]) < alike*volts[c.cell] {
				lost = append(lost, c.speed-s)
			}
		}
		if len(lost) < common {
			continue
		}
		middle := medianOf(lost)
		_, least := extremes(lost)
		x.at, x.loss, x.even = append(x.at, at), append(x.loss, middle), least < middle/2
		third := (len(lost) + 2) / 3
		within = append(within, medianOf(lost[len(lost)-third:])-medianOf(lost[:third]))
	}
	if len(within) > 0 {
		x.within = medianOf(within)
	}
	return x
}

// steps tells whether what was lost was lost between the first pass and the second: it
// gets no more after that, so that heat which did it would have come within a pass or
// two; and then the first one would have been slowed by a part of it already.
func (x fade) steps() bool {
	total := x.loss[len(x.loss)-1]
	return len(x.loss) > 2 && x.loss[1] < 0.75*total && x.within < -total/5
}

// falls tells whether the speed fell from the first pass on, along the whole way, and
// never came back by more than a third of what was lost: at rest a motor cools.
func (x fade) falls() bool {
	n := len(x.loss)
	total := x.loss[n-1]
	if total > math.Log(1-fadeOther) || !x.even || x.loss[1] > total/3 {
		return false
	}
	lowest := 0.0
	for _, l := range x.loss {
		if l > lowest+math.Max(0.03, -total/3) {
			return false
		}
		lowest = math.Min(lowest, l)
	}
	return true
}
