package signal

import (
	"fmt"
	"math"
)

// unitLevels tells whether a drive is written as -1, 0, +1.
func unitLevels(f *features) bool {
	for _, x := range []float64{f.min, f.max} {
		if x != -1 && x != 0 && x != 1 {
			return false
		}
	}
	return f.min < f.max
}

// fromShape gives what is left by the shape of the whole file.
func (a *assignment) fromShape() {
	if a.err != nil {
		return
	}
	a.dutyByName()
	a.constants()
	a.currents()
	if a.rows() < fewRows {
		return
	}
	if !a.has(Drive) && !a.has(Polarity) && !(a.has(LeadA) && a.has(LeadB)) {
		a.driveByShape()
		if a.err == nil && !a.driven() {
			a.driveByRelation()
		}
		if a.err == nil && !a.driven() {
			a.driveByReach()
		}
	}
	if a.err == nil && a.driven() {
		a.currentByRelation()
		if !a.has(Feedback) {
			a.feedbackByShape()
		}
	}
}

// dutyByName takes a duty cycle that goes both ways for the drive where none was
// measured: its sign is the direction.
func (a *assignment) dutyByName() {
	if a.driven() {
		return
	}
	js := a.candidates(func(j int, f *features) bool { return isDuty(&a.p.cols[j]) && f.min < 0 && f.max > 0 })
	if len(js) == 1 {
		a.give(Drive, js[0], "a duty cycle with a sign")
	}
}

// isDuty tells whether a column is named as a duty cycle.
func isDuty(c *planCol) bool {
	return c.kind == numberCol && c.unit.q != volts && anyOf(normal(c.name), "duty", "duty cycle", "pwm")
}

// fewRows is too little to tell a switched column from a moving one: both
// levels of a drive and a travel between them need some rows each.
const fewRows = 20

func (a *assignment) rows() int {
	n := 0
	for _, c := range a.chans {
		n = max(n, len(c.mean))
	}
	return n
}

// near tells whether a column stays at a value all the time.
func (f *features) near(lo, hi, swing float64, scale float64) bool {
	a, b, m := f.min*scale, f.max*scale, f.median*scale
	if a > b {
		a, b = b, a
	}
	return m >= lo && m <= hi && b-a <= swing*math.Abs(m)
}

func (a *assignment) candidates(ok func(j int, f *features) bool) []int {
	var js []int
	for _, c := range a.chans {
		if a.free(c.col) && ok(c.col, a.feat[c.col]) {
			js = append(js, c.col)
		}
	}
	return js
}

func (a *assignment) constants() {
	scale := func(j int) float64 { return columnScale(&a.p.cols[j]) }
	inVolts := func(j int) bool { q := a.p.cols[j].unit.q; return q == volts || q == noQuantity }
	ref := a.candidates(func(j int, f *features) bool {
		return a.p.cols[j].kind == numberCol && inVolts(j) && f.near(4.5, 5.5, 0.05, scale(j))
	})
	if len(ref) == 1 && !a.has(Reference) {
		a.give(Reference, ref[0], "stays near 5 V all the time")
	}
	// A battery sags when the motor starts and is charged between; it does
	// not fall to half. One number without a unit all along was not measured.
	sup := a.candidates(func(j int, f *features) bool {
		return a.p.cols[j].kind == numberCol && inVolts(j) && f.near(9.5, 15.5, 0.25, scale(j)) && !(a.p.cols[j].unit.q == noQuantity && f.min == f.max) && !(f.jumps > 0 && f.levels > 0.9 && f.max-f.min > 2)
	})
	if len(sup) == 1 && !a.has(Supply) {
		a.give(Supply, sup[0], "stays near 12 V all the time")
	}
}

func (a *assignment) currents() {
	js := a.candidates(func(j int, f *features) bool { return a.p.cols[j].unit.q == amperes })
	if len(js) == 1 && !a.has(Current) {
		a.give(Current, js[0], "in a unit of current")
		return
	}
	for _, j := range js {
		a.reason[j] = "in a unit of current"
	}
}

func (a *assignment) driveByShape() {
	words := a.candidates(func(j int, f *features) bool { return a.p.cols[j].kind == wordCol && !a.p.cols[j].onOff })
	a.measured()
	if a.driven() {
		a.intentByShape(words)
		return
	}
	if len(words) == 1 {
		a.give(Polarity, words[0], "words of direction")
		return
	}
	js := a.candidates(func(j int, f *features) bool { return f.switching() })
	var signed []int
	for _, j := range js {
		if f := a.feat[j]; f.negative && f.positive {
			signed = append(signed, j)
		}
	}
	if len(signed) == 0 && a.logicPair() {
		return
	}
	switch {
	case len(signed) == 1 && a.stallsLast(signed[0]):
		a.err = a.currentOrDrive(signed[0])
	case len(signed) == 1:
		a.giveDrive(signed[0], "switches between levels of both signs")
	case len(signed) == 2 && a.driveAndCurrent(signed[0], signed[1]):
	case len(signed) == 2 && a.signAndCurrent(signed[0], signed[1]), len(signed) == 2 && a.signAndCurrent(signed[1], signed[0]):
	case len(signed) > 1:
		a.err = a.twoCandidates(Drive, signed[0], signed[1], "both switch between levels of both signs")
	case len(js) == 2 && a.isLogic(js[0], a.feat[js[0]]) && a.isLogic(js[1], a.feat[js[1]]):
		a.err = a.twoCandidates(Drive, js[0], js[1], "both hold 0 and 1, two inputs of the drive or an enable and a direction")
	case len(js) == 2 && a.areLeads(js[0], js[1]):
		a.give(LeadA, js[0], fmt.Sprintf("switches in turn with column %d; the first of two leads", js[1]+1))
		a.give(LeadB, js[1], fmt.Sprintf("switches in turn with column %d; the second of two leads", js[0]+1))
	case len(js) == 2 && a.driveAndCurrent(js[0], js[1]):
	case len(js) == 1 && a.stallsLast(js[0]):
		a.err = a.currentOrDrive(js[0])
	case len(js) == 1:
		a.giveDrive(js[0], "the only column that switches between levels")
	case len(js) > 1:
		// A wiper that is driven from one end to the other in a few rows
		// switches as well, but not beyond its supply.
		if a.driveByReach(); a.driven() {
			return
		}
		a.err = a.twoCandidates(Drive, js[0], js[1], "both switch between few levels")
	}
}

// intentByShape takes a column without a name that holds nothing but words of
// direction, or -1, 0 and 1, beside a measured drive.
func (a *assignment) intentByShape(words []int) {
	js := append(words, a.candidates(func(j int, f *features) bool {
		c := &a.p.cols[j]
		return c.kind == numberCol && c.unit.q == noQuantity && f.switching() && f.min == -1 && f.max == 1
	})...)
	if len(js) == 1 && !a.has(Command) {
		a.give(Command, js[0], "says a direction beside the measured drive")
	}
}

func (a *assignment) giveDrive(j int, reason string) {
	if k := a.larger(j); k >= 0 {
		reason = fmt.Sprintf("column %d follows it like a current", j+1)
		j = k
	}
	f, c := a.feat[j], &a.p.cols[j]
	if c.kind == wordCol || c.unit.q == noQuantity && unitLevels(f) || a.signOnly(j) {
		a.give(Polarity, j, reason)
		return
	}
	a.give(Drive, j, reason)
}

// areLeads tells whether two single-ended columns are the ends of one motor:
// the same high level, none below ground, and hardly ever high together but
// both high at times.
func (a *assignment) areLeads(i, j int) bool {
	x, y := a.feat[i], a.feat[j]
	if x.negative || y.negative {
		return false
	}
	top := max(x.max, y.max)
	if math.Abs(x.max-y.max) > 0.3*top {
		return false
	}
	ci, cj := a.channel(i), a.channel(j)
	hx, hy, both := 0, 0, 0
	for k := range ci.mean {
		p, q := float64(ci.mean[k]) > top/2, float64(cj.mean[k]) > top/2
		if p {
			hx++
		}
		if q {
			hy++
		}
		if p && q {
			both++
		}
	}
	// Braking at the high side makes both high; driving makes one high. Two
	// leads that are always high together drive nothing.
	return hx > 0 && hy > 0 && (hx-both)+(hy-both) > 0 && hx != both && hy != both
}

// logicLeads tells whether the leads are written as 0 and 1 without a unit.
func (a *assignment) logicLeads() bool {
	for _, r := range []Role{LeadA, LeadB} {
		j := a.col[r]
		if f := a.feat[j]; a.p.cols[j].unit.q != noQuantity || f.min != 0 || f.max != 1 {
			return false
		}
	}
	return true
}

func (a *assignment) feedbackByShape() {
	js := a.candidates(func(j int, f *features) bool {
		return a.p.cols[j].kind == numberCol && f.gliding()
	})
	if len(js) == 0 {
		// A wiper may stand still for the whole file, or jump on a dead spot.
		js = a.candidates(func(j int, f *features) bool { return a.p.cols[j].kind == numberCol })
		if len(js) == 1 && !a.switchesVolts(js[0]) {
			a.give(Feedback, js[0], "the only column left")
			return
		}
		if len(js) == 1 {
			return
		}
	}
	switch len(js) {
	case 0:
		return
	case 1:
		a.give(Feedback, js[0], "the only column that moves without switching")
		return
	}
	if j, why, ok := a.movesWithDrive(js); ok {
		a.give(Feedback, j, why)
		return
	}
	a.err = a.twoCandidates(Feedback, js[0], js[1], "both move without switching")
}

// switchesVolts tells whether a column is a lamp's or another load's: it switches from
// ground to more volts than a wiper's supply has.
func (a *assignment) switchesVolts(j int) bool {
	f, s := a.feat[j], columnScale(&a.p.cols[j])
	return a.p.cols[j].unit.q == volts && f.switching() && f.max*s > wiperMost && f.median*s < wiperMost && f.min*s < 0.5
}
