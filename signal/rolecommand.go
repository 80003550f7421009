package signal

import (
	"fmt"
	"slices"
)

// saysDirection tells whether what stands in a column can be a direction:
// words, -1, 0 and 1, or values with a sign. A set point is never below zero.
func (a *assignment) saysDirection(j int) bool {
	c, f := &a.p.cols[j], a.feat[j]
	switch {
	case f == nil || f.valid == 0 || c.unit.q == amperes:
		return false
	case c.kind == wordCol:
		return !c.onOff
	case unitLevels(f):
		return c.direction || f.min < 0
	}
	return f.min < -0.05*f.size()
}

// settleOpen gives the columns named as a direction or command their role.
// Where the drive was measured they are the controller's intent, or the sign
// of a drive that has none; else they are all there is of the drive.
func (a *assignment) settleOpen() {
	if len(a.open) == 0 {
		return
	}
	if !a.driven() && a.err == nil && a.rows() >= fewRows {
		open := a.open
		for _, j := range open { // not to be taken for a measured drive
			a.reason[j] = "open"
		}
		a.measured()
		for _, j := range open {
			a.reason[j] = ""
		}
	}
	// What was measured comes before what was wanted, also where its name says
	// nothing.
	if !a.driven() && a.err == nil && a.rows() >= fewRows && !slices.ContainsFunc(a.open, func(j int) bool { return !isCommandName(a.p.cols[j].name) }) {
		a.measuredBesideCommand()
	}
	word := func(j int) string {
		_, w := headerRole(a.p.cols[j].name)
		if w == "" {
			w = normal(a.p.cols[j].name)
		}
		return fmt.Sprintf("the header says %q", w)
	}
	if a.driven() {
		if a.has(Drive) && len(a.open) == 1 && !a.byFlag[Drive] && a.signOf(a.col[Drive], a.open[0]) {
			return
		}
		a.commands(a.open, word)
		return
	}
	var direction, command []int
	for _, j := range a.open {
		if isCommandName(a.p.cols[j].name) {
			command = append(command, j)
		} else {
			direction = append(direction, j)
		}
	}
	// Of a direction and a command the direction is nearer to the motor.
	js := direction
	if len(js) == 0 {
		js, command = command, nil
	}
	if len(js) == 2 && a.waysOfOne(js[0], js[1]) {
		a.commands(command, word)
		return
	}
	at := js[0]
	if len(js) > 1 {
		if at = a.prefer(Polarity, js[:2]); len(js) > 2 || at < 0 {
			if a.err == nil {
				a.err = a.twoCandidates(Drive, js[0], js[1], "both are named as a direction")
			}
			for _, j := range a.open {
				a.reason[j] = fmt.Sprintf("one of %d columns named as a direction", len(js))
			}
			return
		}
	}
	r := Polarity
	if f := a.feat[at]; a.p.cols[at].kind != wordCol && f.max-f.min > 2.5 {
		r = Drive // volts under a word of direction
	}
	a.give(r, at, word(at))
	if r == Polarity {
		a.sizeBeside(at)
	}
	for _, j := range js {
		if j != at {
			command = append(command, j)
		}
	}
	a.commands(command, word)
}

// waysOfOne takes two columns named as a direction, each for one way of it, that hold on and
// off in turn: each is the input of its way.
func (a *assignment) waysOfOne(x, y int) bool {
	if senseNames(a.p.cols[y].name, a.p.cols[x].name) {
		x, y = y, x
	}
	for _, j := range []int{x, y} {
		if f := a.feat[j]; f == nil || !a.isLogic(j, f) {
			return false
		}
	}
	if !senseNames(a.p.cols[x].name, a.p.cols[y].name) || a.highTogether(x, y) > together {
		return false
	}
	a.give(LeadA, x, fmt.Sprintf("on and off, named for one way of the drive, column %d for the other; the first of its two inputs", y+1))
	a.give(LeadB, y, fmt.Sprintf("on and off, named for one way of the drive, column %d for the other; the second of its two inputs", x+1))
	return true
}

// measuredBesideCommand takes the drive where all other names speak of a
// command: one column that holds nothing but a sign, or one that alone goes
// from ground to the supply.
func (a *assignment) measuredBesideCommand() {
	signs := a.candidates(func(j int, f *features) bool {
		return !slices.Contains(a.open, j) && a.signOnly(j) && f.min < 0
	})
	if len(signs) == 1 {
		a.giveDrive(signs[0], "holds only -1, 0 and 1, nearer to the motor than a command")
		return
	}
	open := a.open
	for _, j := range open {
		a.reason[j] = "open"
	}
	if len(signs) == 0 {
		a.driveByReach()
	}
	for _, j := range open {
		a.reason[j] = ""
	}
}

// commands takes the one column that can be the controller's intent.
func (a *assignment) commands(js []int, word func(int) string) {
	var fit []int
	for _, j := range js {
		if !a.free(j) {
			continue
		}
		if a.saysDirection(j) {
			fit = append(fit, j)
		} else {
			a.reason[j] = word(j) + ", but it says no direction"
		}
	}
	if len(fit) > 1 {
		var named []int
		for _, j := range fit {
			if isCommandName(a.p.cols[j].name) {
				named = append(named, j)
			}
		}
		if len(named) == 1 {
			fit = named
		}
	}
	for _, j := range fit {
		if len(fit) == 1 && !a.has(Command) {
			a.give(Command, j, word(j))
		} else {
			a.reason[j] = "a direction besides the drive"
		}
	}
	for _, j := range js {
		if a.free(j) {
			a.reason[j] = "a direction besides the drive"
		}
	}
}
