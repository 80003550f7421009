package signal

import "fmt"

// claim is a column that its header claims for a role, and the word that does.
type claim struct {
	j    int
	word string
}

// fromHeader takes the words of the header.
func (a *assignment) fromHeader() {
	claims := map[Role][]claim{}
	for j, c := range a.p.cols {
		if !a.free(j) || c.name == "" {
			continue
		}
		if r, w := a.headerClaim(j); w != "" {
			claims[r] = append(claims[r], claim{j, w})
		}
	}
	driven := a.has(Drive) || a.has(Polarity) || a.has(LeadA) || a.has(LeadB)
	for _, r := range []Role{LeadA, LeadB, Drive, Feedback, Reference, Supply, Current} {
		lead := r == LeadA || r == LeadB
		switch {
		case len(claims[r]) == 0, a.has(r):
		case driven && (r == Drive || lead):
		case lead && (len(claims[LeadA]) == 0 || len(claims[LeadB]) == 0):
		case r == Drive && a.has(LeadA) && a.has(LeadB):
		default:
			a.settleClaims(r, claims[r])
		}
	}
}

// headerClaim is the role that the header of column j claims for it, and by
// which word; no word when it claims none that can be settled by headers alone.
func (a *assignment) headerClaim(j int) (Role, string) {
	c := a.p.cols[j]
	r, w := headerRole(c.name)
	if isCommandName(c.name) && (r == Unused || r == Polarity || r == Drive && a.feat[j] != nil && unitLevels(a.feat[j]) || w == "") {
		// A target or demand is a position or a temperature as often, so
		// its values must say a direction.
		if a.saysDirection(j) || r == Polarity {
			a.open = append(a.open, j)
			return Unused, ""
		}
	}
	if r == Unused && c.unit.q == volts && w != "" {
		if door, word := temperatureDoor(c.name); word != "" && door != Unused {
			r, w = door, word
		}
	}
	if w == "" {
		return Unused, ""
	}
	if isSetPoint(c.name) {
		a.reason[j] = "the header names the command of a position"
		return Unused, ""
	}
	if r == Unused {
		a.reason[j] = fmt.Sprintf("the header says %q", w)
		return Unused, ""
	}
	if r == Reference {
		other, word, why := a.notReference(j)
		if why != "" {
			a.reason[j] = why
			return Unused, ""
		}
		if other != Reference {
			r, w = other, word
		}
	}
	if c.unit.q == amperes && (r == Drive || r == Supply) {
		r, w = Current, "unit A"
	}
	if c.unit.q == amperes && r != Current {
		return Unused, ""
	}
	if c.kind == wordCol && (r == Drive || r == LeadA || r == LeadB) {
		r = Polarity
	}
	if r == Polarity {
		a.open = append(a.open, j)
		return Unused, ""
	}
	return r, w
}

// settleClaims gives the role to the column that claims it, or to the one of two
// that can be preferred; where none can, the user is asked.
func (a *assignment) settleClaims(r Role, c []claim) {
	won := c[0]
	if r == Drive && a.sensePair(c) {
		return
	}
	if len(c) > 1 {
		k := a.prefer(r, []int{c[0].j, c[1].j})
		if len(c) > 2 || k < 0 {
			if r == Drive || r == Feedback || r == LeadA || r == LeadB {
				if a.err == nil {
					a.err = a.twoCandidates(r, c[0].j, c[1].j, fmt.Sprintf("both are named as %s", r))
				}
			}
			for _, x := range c {
				a.reason[x.j] = fmt.Sprintf("one of %d columns named as %s", len(c), r)
			}
			return
		}
		for _, x := range c {
			if x.j == k {
				won = x
			}
		}
	}
	a.give(r, won.j, fmt.Sprintf("the header says %q", won.word))
}

// signOf takes column s as the sign of the drive in column d, when that has
// no sign of its own.
func (a *assignment) signOf(d, s int) bool {
	fd, fs := a.feat[d], a.feat[s]
	if fd.min < -0.05*fd.max || fs.max > 1 || fs.min < -1 || fs.flat || !a.drivesBoth(d, s) {
		return false
	}
	a.give(Polarity, s, fmt.Sprintf("the sign of the drive in column %d", d+1))
	return true
}

// drivesBoth tells whether a drive without a sign is there whichever way the
// direction in column s points. A leg of the bridge that is dead leaves none
// one way, and then the direction is not its sign but a wish.
func (a *assignment) drivesBoth(d, s int) bool {
	top, v, dir := a.feat[d].max, a.channel(d).mean, a.channel(s).mean
	n, on := map[bool]int{}, map[bool]int{}
	for i, x := range dir {
		if x < 0.5 && x > -0.5 {
			continue // a rest, or the low side of a logic line, which says little
		}
		n[x > 0]++
		if float64(v[i]) > 0.3*top {
			on[x > 0]++
		}
	}
	for way, k := range n {
		if on[way]*20 < k {
			return false
		}
	}
	return true
}

// sizeBeside finds the unsigned size of a drive whose direction is in column
// s: a duty cycle or an enable line.
func (a *assignment) sizeBeside(s int) {
	for j, c := range a.p.cols {
		if !a.free(j) || a.feat[j] == nil || !anyOf(normal(c.name), "pwm", "duty", "enable", "en", "power", "on") {
			continue
		}
		reason := a.reason[s]
		if a.signOf(j, s) {
			a.give(Drive, j, fmt.Sprintf("the size of the drive; its sign is in column %d (%s)", s+1, reason))
			return
		}
	}
}

// prefer settles two columns named alike by their shape, or returns -1.
func (a *assignment) prefer(r Role, js []int) int {
	fits := func(j int) bool {
		f := a.feat[j]
		switch r {
		case Drive, Polarity:
			return f.switching()
		case Feedback:
			return f.gliding()
		}
		return !f.flat
	}
	x, y := fits(js[0]), fits(js[1])
	switch {
	case x && !y:
		return js[0]
	case y && !x:
		return js[1]
	}
	return -1
}
