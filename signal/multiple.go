package signal

import (
	"math"
	"strconv"
	"strings"
)

// A multiple is a unit with a number, as in "Feedback (10 mV)": what is written counts
// steps of it. Those of time are read by steppedTime.
type multiple struct {
	unit   unit    // of one step
	n      float64 // steps in the plain unit
	marked bool    // said to be a factor, by "x" or "per count"
}

// findMultiple reads the text of a unit's brackets as a multiple.
func findMultiple(s string) (multiple, bool) {
	s = strings.TrimSpace(strings.ReplaceAll(s, "×", "x"))
	var m multiple
	low := strings.ToLower(s)
	for _, w := range []string{"lsb =", "lsb=", "1 lsb =", "count =", "1 count =", "x", "*"} {
		if strings.HasPrefix(low, w) {
			s, m.marked = strings.TrimSpace(s[len(w):]), true
			break
		}
	}
	for _, w := range []string{"/lsb", "/count", "/digit", "/tick", " per count", " per lsb", " per tick", "/bit"} {
		if strings.HasSuffix(strings.ToLower(s), w) {
			s, m.marked = strings.TrimSpace(s[:len(s)-len(w)]), true
			break
		}
	}
	switch strings.TrimSpace(s) { // the prefixes that no export of a plain unit has
	case "cV":
		return multiple{unit{volts, 0.01, "V"}, 0.01, true}, true
	case "dV":
		return multiple{unit{volts, 0.1, "V"}, 0.1, true}, true
	}
	text := s
	if head, divisor, ok := strings.Cut(s, "/"); ok {
		if n, err := strconv.ParseFloat(strings.TrimSpace(divisor), 64); err == nil { // V/10: a tenth of the volts is written
			u, ok := findUnit(head)
			m.unit, m.n, m.marked = unit{u.q, u.factor * n, u.base}, n, true
			return m, ok && u.q == volts && (n == 10 || n == 100 || n == 1000)
		}
	}
	i := 0
	for i < len(text) && strings.IndexByte("0123456789.", text[i]) >= 0 {
		i++
	}
	n, err := strconv.ParseFloat(text[:i], 64)
	if err != nil {
		return m, false
	}
	u, ok := findUnit(text[i:])
	m.unit, m.n = unit{u.q, u.factor * n, u.base}, n
	if !ok || n <= 0 || n == 1 {
		return m, false
	}
	// "Sensor (5 V)" and "Motor (12 V)" are a range or a supply.
	return m, (u.q == volts || u.q == amperes) && isDecade(n) && (m.marked || m.unit.factor <= 0.1)
}

func isDecade(n float64) bool {
	l := math.Log10(n)
	return math.Abs(l-math.Round(l)) < 1e-9 && math.Abs(l) < 7
}

// splitMultiple takes a multiple in brackets off a header text.
func splitMultiple(s string) (name, text string, m multiple, ok bool) {
	for _, br := range []string{"()", "[]"} {
		if i := strings.LastIndexByte(s, br[0]); i > 0 {
			if j := strings.IndexByte(s[i:], br[1]); j > 1 {
				text = strings.TrimSpace(s[i+1 : i+j])
				if m, ok = findMultiple(text); ok {
					return strings.TrimSpace(s[:i] + " " + s[i+j+1:]), text, m, true
				}
			}
		}
	}
	return s, "", m, false
}

// countedIn gives a column the multiple that its header text says it counts in, and notes
// it. A bare "100 mV" over volts with three decimals is the setting of the channel.
func (p *plan) countedIn(j int, header string) {
	c := &p.cols[j]
	_, text, m, ok := splitMultiple(header)
	if !ok || c.kind != numberCol {
		return
	}
	plain := unit{m.unit.q, m.unit.factor / m.n, m.unit.base}
	c.unitText, c.unit = text, m.unit
	if shapeOf(p.headValues(j)).largestAbs < rawCountsMax { // written in V, or A, whatever the setting is in
		plain.factor = 1
	}
	if !m.marked && p.printedResolution(j) < 0.005 {
		c.unit = plain
		p.note("unit-factor", "%s: %q was taken for a setting and not for a factor; --scale gives one", p.columnName(j), text)
		return
	}
	p.note("unit-factor", "%s counts in %s: a written 1 is %.6g %s", p.columnName(j), text, m.unit.factor, m.unit.base)
}
