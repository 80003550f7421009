package signal

import (
	"bytes"
	"strings"
)

// mixedMarks finds columns that have the other decimal mark than the rest of the table:
// clock and channels come from two programs. Between semicolons or tabs both marks can only
// be decimals, where not every number has its thousands parted; nothing here has
// thousands of volts.
func (t *table) mixedMarks(h *header) {
	if t.delim != ';' && t.delim != '\t' {
		return
	}
	other := byte(',')
	if t.dec == ',' {
		other = '.'
	}
	for j := range t.width {
		if !t.hasMark(j, other, h.inVolts(j)) {
			continue
		}
		if t.decs == nil {
			t.decs = bytes.Repeat([]byte{t.dec}, t.width)
		}
		t.decs[j], t.core[j] = other, true
		for i := t.first; i < t.end; i++ {
			if t.kinds[i] != nil && j < len(t.cells[i]) {
				t.kinds[i][j] = classify(t.cells[i][j], other)
			}
		}
	}
}

// inVolts tells whether column j is named in volts.
func (h *header) inVolts(j int) bool {
	if _, _, u, ok := splitUnit(strings.TrimSpace(h.name[j])); ok && u.q == volts && u.factor == 1 {
		return true
	}
	u, ok := findUnit(h.unit[j])
	return ok && u.q == volts && u.factor == 1
}

// hasMark tells whether the numbers of column j have that decimal mark and no other, and
// some are no numbers with parted thousands, or thousands are too many. A whole number
// without any mark is the same number either way: loggers leave off a fraction of nothing.
func (t *table) hasMark(j int, mark byte, volts bool) bool {
	marked, decimals, parted, hundreds := 0, 0, 0, false
	for i := t.first; i < t.end; i++ {
		if t.kinds[i] == nil || t.kind(i, j) == cellEmpty {
			continue
		}
		c, k := t.text(i, j), t.kind(i, j)
		n := bytes.Count(c, []byte{mark})
		if bytes.IndexByte(c, t.dec) >= 0 || n > 1 || classify(t.cells[i][j], mark) != cellNumber {
			return false
		}
		switch {
		case n == 0:
			hundreds = hundreds || len(bytes.Trim(c, "+- ")) >= 3
			continue
		case k == cellBad:
			decimals++
		case k == cellGrouped:
			parted++
		}
		marked++
	}
	// Beside hundreds without a mark, 1,234 is as well a thousand.
	if volts && !hundreds {
		decimals += parted
	}
	return marked >= 3 && decimals > 0
}

// decOf is the decimal mark of column j.
func (t *table) decOf(j int) byte {
	if j < len(t.decs) {
		return t.decs[j]
	}
	return t.dec
}
