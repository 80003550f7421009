package signal

import (
	"math"
	"slices"
)

// rateInstead tells whether the user's rate stands in for the times of the file: they
// are too coarse to tell one row from the next, or most rows repeat them.
func (p *plan) rateInstead(o *Options) bool {
	t := &p.time
	if _, told := o.Roles[TimeRole]; told || o.Rate <= 0 {
		return false
	}
	if t.resolution*o.Rate > 1.5 {
		return true
	}
	if t.delta {
		return false // one time between rows is like the next
	}
	v := p.headTimes(t.col)
	same := 0
	for i := 1; i < len(v); i++ {
		if v[i] == v[i-1] {
			same++
		}
	}
	return t.mode != timeDate && 2*same > len(v)
}

// isDelta tells a column of the times between rows, "Delta t (s)", from one of times: its
// numbers do not add up as they go.
func (p *plan) isDelta(j int) bool {
	c := &p.cols[j]
	if c.kind != numberCol || !anyOf(normal(c.name), "delta", "dt", "diff", "difference", "interval", "increment", "since last", "δ", "Δ", "intervall", "abstand") {
		return false
	}
	if c.unit.q != seconds && (c.unit.q != noQuantity && !c.unitGuess || !isTimeName(c.name) && !anyOf(normal(c.name), "t")) {
		return false
	}
	v := slices.DeleteFunc(p.headValues(j), math.IsNaN)
	if len(v) < 8 || slices.Min(v) < 0 {
		return false
	}
	mean := func(v []float64) (sum float64) {
		for _, x := range v {
			sum += x / float64(len(v))
		}
		return sum
	}
	// The last quarter of times that rise evenly is 1.75 times their mean.
	all, end := mean(v), mean(v[len(v)*3/4:])
	return all > 0 && end < 1.4*all
}

// addUp turns the times between rows into times.
func (r *reducer) addUp(raw []float64) {
	for i, x := range raw {
		if x == x {
			r.passed += x
			raw[i] = r.passed
		}
	}
}

// lapOf is after how many seconds a time of day begins anew: a day, or an hour where it
// tells only minutes and seconds.
func (p *plan) lapOf(j int) float64 {
	hours := false
	for i := p.first; i < p.end && !hours; i++ {
		if s, ok := p.readStamp(j, p.text(i, j)); ok {
			hours = s.parts != 2 || !s.frac || s.sec >= 3600
		}
	}
	if hours {
		return day
	}
	return 3600
}

// standingTimes gives up a clock that never changes: it orders no rows.
func (r *reducer) standingTimes() {
	t := &r.p.time
	if t.mode != timeClock && t.mode != timeDate || r.rows < fewestOfPart || r.typical > 0 || r.lastT-r.firstOut > 1e-3 {
		return
	}
	t.problem = r.p.columnName(t.col) + " tells the same time in every row"
	t.mode = timeNone
}
