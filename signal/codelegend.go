package signal

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// A codeLegend is a remark that tells what the numbers of a state mean, as in
// "Motor state: 1 = stop, 2 = open, 3 = close".
type codeLegend map[float64]float64

// findLegend reads the legend in a text; nil where there is none, or where it names fewer
// than two codes or no direction.
func findLegend(text string) codeLegend {
	if !strings.ContainsAny(text, "=:") {
		return nil
	}
	entry := regexp.MustCompile(`(-?\b\d{1,5})\s*[=:]\s*("?)(\pL[\pL ]*)`)
	legend, turns := codeLegend{}, false
	for _, m := range entry.FindAllStringSubmatch(text, -1) {
		v, err := strconv.ParseFloat(m[1], 64)
		sign, ok := polarity([]byte(strings.TrimSpace(m[3])))
		if err != nil || !ok {
			return nil
		}
		legend[v] = sign
		turns = turns || sign != 0
	}
	if len(legend) < 2 || !turns {
		return nil
	}
	return legend
}

// legend is the meaning of the codes of column j, as its own header or a line above tells
// it; nil where none does.
func (p *plan) legend(j int) codeLegend {
	if l := findLegend(p.head.name[j]); l != nil {
		return l
	}
	var found codeLegend
	for i := range p.first {
		text := utf8String(p.lines[i].text)
		l := findLegend(text)
		switch name := normal(p.cols[j].name); {
		case l == nil || i == p.head.names:
		case name != "" && hasWords(normal(text), name):
			return l
		case found == nil:
			found = l
		}
	}
	return found
}

// Where no legend tells it, controllers number the directions 0, 1 and 2, or write -1 into
// a byte or a word without a sign.
var usualCodes = []codeLegend{{0: 0, 1: 1, 2: -1}, {0: 0, 1: 1, 255: -1}, {0: 0, 1: 1, 65535: -1}}

// directionCodes gives the meaning of the numbers in a column that is named as a direction
// or as the motor; nil where they are no codes, or nobody tells which.
func (p *plan) directionCodes(j int) codeLegend {
	c := &p.cols[j]
	r, _ := headerRole(c.name)
	if r != Polarity && r != Drive || c.unit.q != noQuantity && c.unit.q != counts {
		return nil
	}
	seen := map[float64]bool{}
	for _, x := range p.headValues(j) {
		if x == x {
			seen[x] = true
		}
	}
	within := func(l codeLegend) bool {
		for x := range seen {
			if _, ok := l[x]; !ok {
				return false
			}
		}
		return len(seen) > 0
	}
	if l := p.legend(j); l != nil && within(l) {
		p.note("direction-numbers", "%s numbers the directions, and the file says how: read %s", p.columnName(j), l)
		return l
	}
	for _, l := range usualCodes {
		back := slices.ContainsFunc([]float64{2, 255, 65535}, func(x float64) bool { return seen[x] && l[x] < 0 })
		if within(l) && back && (seen[1] || r == Polarity && seen[2]) {
			p.note("direction-numbers", "%s numbers the directions: read %s", p.columnName(j), l)
			return l
		}
	}
	return nil
}

// String lists the codes: "0 as rest, 1 as forward and 2 as reverse".
func (l codeLegend) String() string {
	var codes []float64
	for v := range l {
		codes = append(codes, v)
	}
	slices.Sort(codes)
	var s []string
	for _, v := range codes {
		s = append(s, fmt.Sprintf("%g as %s", v, []string{"reverse", "rest", "forward"}[int(l[v])+1]))
	}
	return strings.Join(s, ", ")
}

// unknownCodes refuses a direction in numbers that nothing explains: which of 1, 2 and 3
// is the rest cannot be seen, and to take them for volts makes one direction of all.
func (a *assignment) unknownCodes() {
	if a.err != nil {
		return
	}
	for j, c := range a.p.cols {
		f := a.feat[j]
		if r := a.role[j]; r != Polarity && r != Drive || c.kind != numberCol || f == nil || c.unit.q != noQuantity && c.unit.q != counts || !a.areCodes(j) {
			continue
		}
		a.err = &RoleError{File: a.p.file, Role: Drive,
			Msg:  fmt.Sprintf("%s numbers the states of the drive from %g to %g, and nothing tells which number is the rest and which a direction", a.p.columnName(j), f.min, f.max),
			Hint: "write what they mean in a line above the names, as in \"1 = stop, 2 = open, 3 = close\", or replace them by 0, 1 and -1"}
		return
	}
}

// areCodes tells a few whole numbers without a sign, of a column that is named as a
// direction or, if they are small, as the motor.
func (a *assignment) areCodes(j int) bool {
	const mostCodes, mostOfMotor = 6, 4
	f := a.feat[j]
	named, _ := headerRole(a.p.cols[j].name)
	if f.min < 0 || f.max < 2 || f.max > 65535 || named != Polarity && f.max > mostOfMotor {
		return false
	}
	levels := map[float32]bool{}
	for _, x := range a.channel(j).mean {
		switch {
		case x != x:
		case float64(x) != math.Trunc(float64(x)):
			return false
		default:
			levels[x] = true
		}
		if len(levels) > mostCodes {
			return false
		}
	}
	delete(levels, 0)
	return len(levels) > 1 // 0 and one level more are a drive that is on or off
}
