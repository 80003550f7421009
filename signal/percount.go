package signal

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// A countGain is a remark of the preamble that tells the volts of a converter's count.
type countGain struct {
	volts float64
	where string // normal words that name the channel; "" for the converter's own volts
}

// perCountWords stand behind the volts of one count.
var perCountWords = []string{"per count", "/count", "/counts", "per lsb", "/lsb", "/digit", "per digit", "/bit", "per bit", "/step", "per step"}

// voltsPerCount reads "0.02 V per count" and "1023 = 5.00 V": the volts of one count.
func voltsPerCount(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if head, tail, ok := strings.Cut(s, "="); ok {
		n, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(head), "counts")), 64)
		v, ok := plainVolts(tail)
		return v / n, err == nil && ok && n >= 100 && n == math.Trunc(n)
	}
	for _, w := range perCountWords {
		if len(s) > len(w) && strings.EqualFold(s[len(s)-len(w):], w) {
			return plainVolts(s[:len(s)-len(w)])
		}
	}
	return 0, false
}

// plainVolts reads "5.00 V" or "4.88 mV".
func plainVolts(s string) (float64, bool) {
	v, u, ok := valueWithUnit([]byte(strings.TrimSpace(s)), '.')
	return v * u.factor, ok && u.q == volts && v > 0
}

// addGain keeps a remark of the preamble that tells the volts of a count; it tells whether
// the text is one.
func (f *facts) addGain(i int, text string) bool {
	where, rest, named := strings.Cut(text, ":")
	if !named {
		where, rest = "", text
	}
	for part := range strings.FieldsFuncSeq(rest, func(r rune) bool { return r == ',' || r == ';' || r == '(' || r == ')' }) {
		v, ok := voltsPerCount(part)
		if head, tail, cut := strings.Cut(part, "="); !ok && cut && !named { // "Lead A = 0.02 V per count"
			if v, ok = voltsPerCount(tail); ok {
				where = head
			}
		}
		if ok {
			f.gains = append(f.gains, countGain{v, normal(where)})
			f.add(i, strings.TrimSpace(where), []byte(rest), fmt.Sprintf("%.6g V of one count", v))
			return true
		}
	}
	return false
}

// gainRow takes a row that gives a factor to the columns, as in "scale,s,0.0049,0.0012".
func (f *facts) gainRow(t *table, i int) {
	cells := trimTail(t.cells[i])
	if len(cells) < 3 || t.kind(i, 0) != cellWord || len(cells) > t.width+1 {
		return
	}
	before := 0 // the label stands over the time, or before it
	if len(cells) == t.width+1 {
		before = 1
	}
	switch normal(utf8String(cells[0].text)) {
	case "scale", "gain", "factor", "multiplier", "v count", "volts per count", "v lsb", "v per count", "skalierung", "faktor":
	default:
		return
	}
	for j := 1; j < len(cells); j++ {
		if v, k := readCell(cells[j].text, t.dec); k == cellNumber && v > 0 && v < 1 {
			f.columnGains[j-before] = v
		}
	}
}

// inCounts tells a column of counts from one of volts: by its unit, or where none is
// said, by whole numbers alone.
func (p *plan) inCounts(j int) bool {
	c := &p.cols[j]
	if c.kind != numberCol || isTimeName(c.name) || isIndexName(c.name) {
		return false
	}
	if c.unit.q != noQuantity {
		return c.unit.q == counts
	}
	return p.whole(j) && shapeOf(p.headValues(j)).largestAbs > 1
}

// whole tells whether the head of a column has whole numbers only.
func (p *plan) whole(j int) bool {
	return !slices.ContainsFunc(p.headValues(j), func(x float64) bool { return x != math.Trunc(x) && x == x })
}

// countVolts gives a column of counts the volts of one count that the preamble tells, and
// notes it.
func (p *plan) countVolts(j int) {
	c := &p.cols[j]
	gain := p.facts.columnGains[j]
	role, _ := headerRole(c.name)
	for _, g := range p.facts.gains {
		if gain > 0 {
			break
		}
		named, _ := headerRole(g.where)
		switch {
		case g.where == "": // what the converter takes; before it leads are divided
			if role == Feedback || role == Reference {
				gain = g.volts
			}
		case hasWords(g.where, "all"), hasWords(g.where, "every"), role != Unused && role == named, c.name != "" && hasWords(g.where, normal(c.name)):
			gain = g.volts
		}
	}
	if gain == 0 || !p.inCounts(j) {
		return
	}
	c.unitText, c.unit = "V", unit{volts, gain, "V"}
	c.probe = gain
	p.note("unit-factor", "%s counts: the file says that one count is %.6g V (a --scale for it is taken instead)", p.columnName(j), gain)
}
