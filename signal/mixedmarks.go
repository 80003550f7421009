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

// hasMark tells whether the numbers of column j all have a decimal mark, and some are no
// numbers with parted thousands, or thousands are too many.
func (t *table) hasMark(j int, mark byte, volts bool) bool {
	n, decimals := 0, 0
	for i := t.first; i < t.end; i++ {
		if t.kinds[i] == nil || t.kind(i, j) == cellEmpty {
			continue
		}
		c := t.text(i, j)
		if bytes.IndexByte(c, t.dec) >= 0 || bytes.Count(c, []byte{mark}) != 1 || classify(t.cells[i][j], mark) != cellNumber {
			return false
		}
		n++
		if k := t.kind(i, j); k == cellBad || volts && k == cellGrouped {
			decimals++
		}
	}
	return n >= 3 && decimals > 0
}

// decOf is the decimal mark of column j.
func (t *table) decOf(j int) byte {
	if j < len(t.decs) {
		return t.decs[j]
	}
	return t.dec
}
