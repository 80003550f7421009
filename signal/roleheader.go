package signal

import (
	"fmt"
	"strings"
)

// fromHeader takes the words of the header.
func (a *assignment) fromHeader() {
	type claim struct {
		j    int
		word string
	}
	claims := map[Role][]claim{}
	for j, c := range a.p.cols {
		if !a.free(j) || c.name == "" {
			continue
		}
		r, w := headerRole(c.name)
		if w == "" {
			continue
		}
		if r == Unused {
			a.reason[j] = fmt.Sprintf("the header says %q", w)
			continue
		}
		if c.unit.q == amperes && (r == Drive || r == Supply) {
			r, w = Current, "unit A"
		}
		if c.unit.q == amperes && r != Current || c.unit.q == volts && r == Current && !strings.Contains(w, "shunt") && false {
			continue
		}
		if c.kind == wordCol && (r == Drive || r == LeadA || r == LeadB) {
			r = Polarity
		}
		if r == Polarity && c.kind != wordCol && a.feat[j].max-a.feat[j].min > 2.5 {
			r = Drive // volts under a word of direction
		}
		claims[r] = append(claims[r], claim{j, w})
	}
	driven := a.has(Drive) || a.has(Polarity) || a.has(LeadA) || a.has(LeadB)
	for _, r := range []Role{LeadA, LeadB, Drive, Polarity, Feedback, Reference, Supply, Current} {
		c := claims[r]
		if len(c) == 0 || a.has(r) {
			continue
		}
		if driven && (r == Drive || r == Polarity || r == LeadA || r == LeadB) {
			continue
		}
		if (r == LeadA || r == LeadB) && (len(claims[LeadA]) == 0 || len(claims[LeadB]) == 0) {
			continue
		}
		if (r == Drive || r == Polarity) && (a.has(LeadA) && a.has(LeadB)) {
			continue
		}
		if r == Polarity && a.has(Drive) {
			continue
		}
		if len(c) > 1 {
			k := a.prefer(r, []int{c[0].j, c[1].j})
			if len(c) > 2 || k < 0 {
				if r == Drive || r == Feedback || r == LeadA || r == LeadB || r == Polarity {
					if a.err == nil {
						a.err = a.twoCandidates(r, c[0].j, c[1].j, fmt.Sprintf("both are named as %s", r))
					}
				}
				for _, x := range c {
					a.reason[x.j] = fmt.Sprintf("one of %d columns named as %s", len(c), r)
				}
				continue
			}
			for _, x := range c {
				if x.j == k {
					c[0] = x
				}
			}
		}
		a.give(r, c[0].j, fmt.Sprintf("the header says %q", c[0].word))
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
