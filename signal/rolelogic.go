package signal

import (
	"fmt"
	"strings"
)

// logicPair takes two columns that hold nothing but 0 and 1 as the two inputs
// of the drive: one high turns the motor one way, the other high the other
// way, both alike leave it. How often they change does not matter, they are no
// volts with noise on them. Where a third column is like that their names must
// make them a pair; where both are high together for long, one may as well be
// an enable and the other a direction, and only names that are a pair tell.
func (a *assignment) logicPair() bool {
	js := a.candidates(func(j int, f *features) bool { return a.isLogic(j, f) })
	x, y := -1, -1
	for _, i := range js {
		for _, k := range js {
			switch {
			case !numberedPair(a.p.cols[i].name, a.p.cols[k].name):
			case x >= 0:
				return false
			default:
				x, y = i, k
			}
		}
	}
	if x < 0 {
		if len(js) != 2 {
			return false
		}
		x, y = js[0], js[1]
		if a.highTogether(x, y) > together {
			return false
		}
	}
	if !a.areLeads(x, y) {
		return false
	}
	a.give(LeadA, x, fmt.Sprintf("holds only 0 and 1, in turn with column %d; the first of the drive's two inputs", y+1))
	a.give(LeadB, y, fmt.Sprintf("holds only 0 and 1, in turn with column %d; the second of the drive's two inputs", x+1))
	return true
}

// together is the share of rows in which two inputs may be high at once while
// they are switched over: a row in twenty (chosen, not derived).
const together = 0.05

// isLogic tells whether a column holds 0 and 1 only, or words for them.
func (a *assignment) isLogic(j int, f *features) bool {
	if f.min != 0 || f.max != 1 {
		return false
	}
	c := &a.p.cols[j]
	return c.kind == wordCol && c.onOff || a.signOnly(j)
}

// highTogether is the share of rows in which two columns are both high.
func (a *assignment) highTogether(i, j int) float64 {
	x, y := a.channel(i).mean, a.channel(j).mean
	n, both := 0, 0
	for k := range x {
		if x[k] != x[k] || y[k] != y[k] {
			continue
		}
		n++
		if x[k] > 0.5 && y[k] > 0.5 {
			both++
		}
	}
	return float64(both) / float64(max(1, n))
}

// numberedPair tells whether two names are alike but for a and b, or 1 and 2,
// at the end.
func numberedPair(a, b string) bool {
	if pairNames(withoutStates(a), withoutStates(b)) {
		return true
	}
	x, first := strings.CutSuffix(" "+withoutStates(a), " 1")
	y, second := strings.CutSuffix(" "+withoutStates(b), " 2")
	return first && second && x == y
}

// withoutStates is a name in normal words without the states in brackets
// behind it, as in "In1 (0/1)".
func withoutStates(name string) string {
	s := normal(name)
	for _, t := range []string{" 0 1", " low high", " off on"} {
		s = strings.TrimSuffix(s, t)
	}
	return s
}
