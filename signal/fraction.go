package signal

import "math"

// secondFraction finds milliseconds or microseconds in a column of their own
// right of a clock of whole seconds.
func (p *plan) secondFraction() {
	t := &p.time
	j := max(t.col, t.col2) + 1
	if t.resolution != 1 || j >= len(p.cols) || p.cols[j].kind != numberCol {
		return
	}
	scale := p.fractionScale(j)
	if scale == 0 {
		return
	}
	t.fraction, t.fracScale, t.resolution = j, scale, scale
}

// fractionScale tells whether a column can be the fraction of a second, by
// its name and range: 1e-3, 1e-6 or 0.
func (p *plan) fractionScale(j int) float64 {
	most, n := 0.0, 0
	for _, x := range p.headValues(j) {
		if x != x {
			continue
		}
		if x < 0 || x != math.Trunc(x) {
			return 0
		}
		most = max(most, x)
		n++
	}
	switch name := normal(p.head.name[j]); {
	case n == 0:
	case anyOf(name, "us", "usec", "micros", "microsecond", "microseconds") && most < 1e6:
		return 1e-6
	case name == "" && most < 1000 && p.fixedWidth(j, 3),
		anyOf(name, "ms", "msec", "millis", "millisecond", "milliseconds", "millisec") && most < 1000:
		return 1e-3
	}
	return 0
}

// fixedWidth tells whether all cells have n digits: "007".
func (p *plan) fixedWidth(j, n int) bool {
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] != nil && len(p.text(i, j)) != n {
			return false
		}
	}
	return true
}
