package signal

import (
	"fmt"
	"math"
	"strings"
)

// measured takes the drive where volts leave no doubt about it: one column of
// both signs, or two leads.
func (a *assignment) measured() {
	if a.leadPair() {
		return
	}
	both := a.candidates(func(j int, f *features) bool {
		return a.inVolts(j) && !f.flat && f.size()*columnScale(&a.p.cols[j]) >= leastDrive && f.min < -0.2*f.size() && f.max > 0.2*f.size()
	})
	if len(both) == 1 {
		why := "the only column with volts of both signs, which a wiper has not"
		if a.feat[both[0]].switching() {
			why = "switches between levels of both signs"
		}
		a.giveDrive(both[0], why)
	}
}

// inVolts tells whether a column holds numbers in volts, or in no unit.
func (a *assignment) inVolts(j int) bool {
	c := &a.p.cols[j]
	return c.kind == numberCol && (c.unit.q == volts || c.unit.q == noQuantity)
}

// A lead is a candidate for one end of the motor: volts against ground.
type lead struct {
	j     int
	v     []float32
	f     *features
	least float64 // leastDrive as the column is written
}

// leadPair finds two columns that are the ends of one motor: against ground,
// both reach the supply, but only one at a time stands against the other's
// ground, now this way and now that. Easing in and pulses blur their levels,
// so levels alone do not tell.
func (a *assignment) leadPair() bool {
	var ls []lead
	for _, j := range a.candidates(func(j int, f *features) bool {
		return a.inVolts(j) && f.valid > 0 && a.againstGround(j)
	}) {
		ls = append(ls, lead{j: j, v: a.channel(j).mean, f: a.feat[j], least: leastDrive / columnScale(&a.p.cols[j])})
	}
	var at [2]int
	n, sure := 0, 0.0
	for i := range ls {
		for k := i + 1; k < len(ls); k++ {
			if !areEnds(&ls[i], &ls[k]) || !a.wiperBeside(ls[i].j, ls[k].j) {
				continue
			}
			// A third column that moves with the difference settles between
			// several pairs.
			s := 0.1
			for _, c := range a.chans {
				if c.col != ls[i].j && c.col != ls[k].j && a.p.cols[c.col].kind == numberCol {
					s = max(s, follow(minus(ls[i].v, ls[k].v), c.mean))
				}
			}
			switch {
			case s > 1.6*sure:
				n, sure, at = 1, s, [2]int{i, k}
			case s > 0.6*sure:
				n, sure = n+1, max(s, sure)
			}
		}
	}
	x, y := 0, 0
	why := "stands against column %d in turn; one of two leads"
	switch {
	case n == 1:
		x, y = ls[at[0]].j, ls[at[1]].j
	case n > 1:
		return false
	default:
		why = "a pair by name with column %d"
		if x, y = a.namedPair(ls); x < 0 {
			return false
		}
	}
	if pairNames(a.p.cols[y].name, a.p.cols[x].name) {
		x, y = y, x
	}
	a.give(LeadA, x, fmt.Sprintf(why, y+1))
	a.give(LeadB, y, fmt.Sprintf(why, x+1))
	return true
}

// againstGround tells whether a column can be one lead against ground: never
// below it, but for the moments in which a lead that was let go shows what a
// motor running on generates.
func (a *assignment) againstGround(j int) bool {
	least := float32(-0.15 * max(a.feat[j].size(), leastDrive/columnScale(&a.p.cols[j])))
	n, below := 0, 0
	for _, x := range a.channel(j).mean {
		if x == x {
			n++
		}
		if x < least {
			below++
		}
	}
	return below*20 <= n
}

func minus(x, y []float32) []float64 {
	d := make([]float64, len(x))
	for i := range x {
		d[i] = float64(x[i]) - float64(y[i])
	}
	return d
}

// wiperBeside tells whether besides two columns there is one that can be the
// wiper; else one of the two may be it, on a track fed with 12 V.
func (a *assignment) wiperBeside(i, j int) bool {
	return a.has(Feedback) || len(a.candidates(func(k int, f *features) bool {
		s := columnScale(&a.p.cols[k])
		return k != i && k != j && a.p.cols[k].kind == numberCol && f.valid > 0 && !f.near(9, 15.5, 0.25, s) && !f.near(4.5, 5.5, 0.05, s)
	})) > 0
}

// areEnds tells whether two columns behave as the two ends of one motor.
func areEnds(x, y *lead) bool {
	top := max(x.f.max, y.f.max)
	if top < x.least || x.least != y.least || min(x.f.max, y.f.max) < 0.7*top || max(x.f.min, y.f.min) > 0.2*top {
		return false
	}
	var n, forward, back, middle, outerX, outerY int
	for i := range x.v {
		p, q := float64(x.v[i])/top, float64(y.v[i])/top
		if p != p || q != q {
			continue
		}
		n++
		switch {
		case p-q > 0.5:
			forward++
		case q-p > 0.5:
			back++
		}
		mp, mq := math.Abs(p-0.5) < 0.35, math.Abs(q-0.5) < 0.35
		if mp && mq {
			middle++
		}
		if !mp {
			outerX++
		}
		if !mq {
			outerY++
		}
	}
	// A wiper glides through the middle; a lead is there only while it eases
	// in or is pulsed, and then the other one is not.
	return forward >= 3 && back >= 3 && forward*200 >= n && back*200 >= n && middle*10 <= n && min(outerX, outerY)*2 >= n
}

// pairNames tells whether two names are alike but for a and b at the end, what they
// are measured against left out.
func pairNames(a, b string) bool {
	x, okA := strings.CutSuffix(" "+withoutGround(normal(a)), " a")
	y, okB := strings.CutSuffix(" "+withoutGround(normal(b)), " b")
	return okA && okB && x == y
}

// namesGround tells whether a name says that its channel is measured against ground.
func namesGround(name string) bool {
	s := normal(name)
	return withoutGround(s) != s
}

// namedPair finds two columns named as a pair, and as measured against ground, or
// of which one is switched and the other stays at ground, beside a third that can
// be the wiper: a capture driven one way only, or with a dead leg.
func (a *assignment) namedPair(ls []lead) (int, int) {
	for i := range ls {
		for k := range ls {
			x, y := &ls[i], &ls[k]
			if i == k || !pairNames(a.p.cols[x.j].name, a.p.cols[y.j].name) {
				continue
			}
			quiet, other := x, y
			if x.f.max > y.f.max {
				quiet, other = y, x
			}
			top := max(other.f.max, other.least)
			// "A to ground" and "B to ground" beside a wiper that has its name are the
			// motor's leads, whatever a broken circuit lets them do.
			if a.has(Feedback) && x.least == y.least && other.f.max >= other.least && namesGround(a.p.cols[x.j].name) && namesGround(a.p.cols[y.j].name) {
				return x.j, y.j
			}
			if x.least != y.least || other.f.min > 0.1*top || quiet.f.max > 0.3*top || math.Abs(quiet.f.median) > 0.03*top {
				continue
			}
			moves := len(a.candidates(func(j int, f *features) bool {
				return j != x.j && j != y.j && a.p.cols[j].kind == numberCol && f.gliding()
			})) > 0
			// Without anything driven, only the named wiper tells that these
			// two must be the motor's.
			if a.has(Feedback) || other.f.max >= other.least && moves {
				return x.j, y.j
			}
		}
	}
	return -1, -1
}
