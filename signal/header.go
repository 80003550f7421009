package signal

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A header is the rows between preamble and data: names and units.
type header struct {
	names, units int // line indices, -1 when there is none
	name, unit   []string
}

// findHeader walks up from the data. Names and units must stand directly
// above the data: a marker line ends the search.
func (t *table) findHeader() *header {
	h := &header{names: -1, units: -1, name: make([]string, t.width), unit: make([]string, t.width)}
	blank := 0
	for i := t.first - 1; i >= 0 && i >= t.first-mostHeadLines; i-- {
		line := bytes.TrimSpace(t.lines[i].text)
		if !hasLetterOrDigit(line) && len(bytes.Trim(line, "%°")) == len(line) {
			if blank++; blank > 3 {
				break
			}
			continue
		}
		cells := t.headCells(i)
		switch {
		case t.isStatistics(i), t.isFactorRow(i), isPiece(line):
			continue
		case h.units < 0 && t.isUnitsRow(cells):
			h.units = i
			fillCells(h.unit, cells)
		case h.names < 0 && t.isNamesRow(cells, i, h.units >= 0):
			h.names = i
			fillCells(h.name, cells)
		default:
			i = 0
		}
		if h.names >= 0 {
			break
		}
	}
	if h.names > 0 {
		t.lookAboveNames(h)
	}
	for j := range h.name {
		if isLabel(h.name[j]) && t.labelled(h, j) {
			h.name[j] = ""
		}
	}
	return h
}

// labelled tells whether the text over a column is the label of the row: the
// same label stands over every time column of pairs, or only in the first.
func (t *table) labelled(h *header, j int) bool {
	return j == 0 || h.name[j] == h.name[0] || isLabel(h.unit[j])
}

// lookAboveNames takes a second row of names when the first is generic, or a
// row of units that stands above the names.
func (t *table) lookAboveNames(h *header) {
	i := h.names - 1
	if len(bytes.TrimSpace(t.lines[i].text)) == 0 {
		return
	}
	cells := t.headCells(i)
	if h.units < 0 && len(cells) == len(t.headCells(h.names)) && t.isUnitsRow(cells) {
		h.units = i
		fillCells(h.unit, cells)
		return
	}
	roles := func(names []string) (n int) {
		for _, s := range names {
			if r, w := headerRole(s); w != "" || r != Unused {
				n++
			}
		}
		return n
	}
	upper := make([]string, t.width)
	fillCells(upper, cells)
	if roles(h.name) == 0 && roles(upper) >= 2 && t.isNamesRow(cells, i, true) {
		for j := range h.name {
			if upper[j] != "" {
				h.name[j] = strings.TrimSpace(upper[j] + " " + h.name[j])
			}
		}
	}
}

func hasLetterOrDigit(b []byte) bool {
	for len(b) > 0 {
		r, n := utf8.DecodeRune(b)
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == utf8.RuneError {
			return true
		}
		b = b[n:]
	}
	return false
}

// headCells splits a line above the data, also when it is written as a remark. The stamp that a
// terminal puts before each line names nothing.
func (t *table) headCells(i int) []cell {
	cells := t.lineCells(i)
	if _, _, ok := cutStamp(t.lines[i].text); ok && len(cells) > 1 {
		cells = slices.Clone(cells)
		cells[0].text = nil
	}
	return cells
}

func (t *table) lineCells(i int) []cell {
	if t.kinds[i] != nil {
		return t.cells[i]
	}
	line := t.lines[i].text
	if isComment(line) {
		body := stripComment(line)
		line = append(bytes.Repeat([]byte{' '}, len(line)-len(body)), body...) // names keep their places
	}
	cells, _ := splitCells(line, t.delim, nil)
	cells = t.cutNames(line, cells)
	if t.delim == ' ' || len(trimTail(cells)) > 1 {
		return cells
	}
	return nil
}

func fillCells(dst []string, cells []cell) {
	for j := range dst {
		if j < len(cells) {
			dst[j] = utf8String(cells[j].text)
		}
	}
}

// filled counts the data columns that a row names.
func (t *table) filled(cells []cell) (n, core int) {
	for j, c := range t.core {
		if !c {
			continue
		}
		core++
		if j < len(cells) && len(cells[j].text) > 0 {
			n++
		}
	}
	return n, core
}

// isUnitsRow tells whether most cells over the data are units, at least one
// of them beyond doubt: a lone letter may as well be a name.
func (t *table) isUnitsRow(cells []cell) bool {
	units, sure, other := 0, 0, 0
	for j := range min(len(cells), len(t.core)) {
		s := utf8String(cells[j].text)
		if s == "" {
			continue
		}
		if _, ok := findUnit(s); ok {
			units++
			if letters := strings.Trim(s, "()[]{}<>"); len(letters) > 1 || letters == "s" || letters == "S" || letters == "V" {
				sure++
			}
			continue
		}
		if _, ok := findMultiple(strings.Trim(s, "()[]")); ok {
			units++
			continue
		}
		if isLabel(s) || isIndexName(s) || s == "-" || strings.Trim(s, "()[]") == "1" || strings.EqualFold(s, "hh:mm:ss") {
			continue
		}
		if _, n := scanNumber(cells[j].text, 0, t.dec); n == len(cells[j].text) && !t.core[j] {
			continue
		}
		other++
	}
	return sure > 0 && units > other
}

// isNamesRow tells whether a row names the columns. A pair of cells over two
// columns may as well be the last line of a preamble, so it must have some
// word of a header.
func (t *table) isNamesRow(cells []cell, i int, unitsBelow bool) bool {
	n, core := t.filled(cells)
	if core == 0 || n == 0 || n < core-1 || core == 1 && n < 1 {
		return false
	}
	words, numbers, evidence := 0, 0, false
	for j := range min(len(cells), len(t.core)) {
		c := cells[j]
		if len(c.text) == 0 {
			continue
		}
		v, k := readCell(c.text, t.dec)
		switch {
		case k == cellNumber && v >= 0 && v < 1000 && v == float64(int(v)):
			numbers++
		case k == cellNumber || k == cellGrouped || k == cellQuantity && len(c.text) > 3 && !bytes.ContainsAny(c.text, ")]"): // "101 (V)" is a name
			return false
		case classify(c, t.dec) == cellClock:
			return false
		default:
			words++
		}
		s := utf8String(c.text)
		_, _, _, hasUnit := splitUnit(s)
		_, w := headerRole(s)
		if hasUnit || w != "" || isTimeName(s) || isIndexName(s) || isChannelName(s) {
			evidence = true
		}
	}
	if words == 0 || numbers > 0 && !unitsBelow && !evidence {
		return false
	}
	if core == 2 && !unitsBelow {
		if numbers > 0 {
			return false
		}
		if !evidence && i > 0 && t.kinds[i-1] != nil && len(trimTail(t.cells[i-1])) == 2 {
			return false
		}
	}
	return true
}

// isChannelName tells names such as CH1, Channel 2, A1, Input 3.
func isChannelName(s string) bool {
	w := normal(s)
	for _, p := range []string{"ch", "chan", "channel", "kanal", "input", "in", "ain", "ai", "volt", "probe", "voie", "canal", "analog", "trace", "c", "y"} {
		if rest, ok := strings.CutPrefix(w, p); ok && (rest == "" || rest[0] == ' ') {
			return true
		}
	}
	return false
}

// shiftNames mends a header with one name less than the data have columns:
// writers leave out the name of a row number, or give one name to a stamp of
// two cells.
func (t *table) shiftNames(h *header) {
	if h.names < 0 {
		return
	}
	last := len(t.core) - 1
	for last >= 0 && !t.core[last] {
		last--
	}
	names := trimTail(t.headCells(h.names))
	if last < 1 || len(names) != last || slices.ContainsFunc(names, func(c cell) bool { return len(c.text) == 0 }) {
		return
	}
	at := -1
	row := t.end - 1
	for j := 0; j < last; j++ {
		if t.kind(row, j) != cellClock {
			continue
		}
		a, _ := readClock(t.text(row, j))
		b, ok := readClock(t.text(row, j+1))
		if a.hasDate && !a.hasTime && ok && b.hasTime && !b.hasDate || a.hasTime && !a.frac && len(t.text(row, j+1)) == 3 && t.kind(row, j+1) == cellNumber {
			at = j + 1
		}
		break
	}
	if at < 0 && shapeOf((&plan{table: t}).headValues(0)).unitStep && !isIndexName(h.name[0]) {
		at = 0
	}
	if at < 0 {
		return
	}
	copy(h.name[at+1:], h.name[at:])
	h.name[at] = ""
}

// decimalCommas refuses a file that has commas both as decimal mark and
// between cells: every number is torn in two.
func (p *plan) decimalCommas() error {
	i := p.head.names
	if i < 0 {
		i = p.first - 1
	}
	if p.delim != ',' || i < 0 {
		return nil
	}
	names, cells := len(trimTail(p.headCells(i))), len(trimTail(p.cells[p.first]))
	if names < 2 || cells != 2*names || bytes.IndexByte(p.lines[p.first].text, '.') >= 0 {
		return nil
	}
	return &SyntaxError{File: p.file, Line: int64(p.first + 1), Column: names + 1,
		Msg:  fmt.Sprintf("found %d cells under %d names: commas stand for the decimal mark and between cells", cells, names),
		Hint: "export with a decimal point, or with semicolons between cells"}
}
