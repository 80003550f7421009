package signal

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
)

// allMissing tells whether no active column of row r holds a number.
func (q *parser) allMissing(b *block, r int) bool {
	for _, c := range q.active {
		if !math.IsNaN(b.cols[c][r]) {
			return false
		}
	}
	return true
}

// reject notes a row that cannot be read.
func (b *block) reject(col int, hint, format string, args ...any) {
	b.badRows++
	b.badLast = b.lines
	if b.bad == nil {
		b.bad = &SyntaxError{Line: int64(b.lines), Column: col, Msg: fmt.Sprintf(format, args...), Hint: hint}
	}
}

// headAgain tells whether a line is one of those above the data once more, and counts it.
func (q *parser) headAgain(b *block, line []byte) bool {
	if !slices.ContainsFunc(q.heads, func(h []byte) bool { return bytes.Equal(line, h) }) {
		return false
	}
	if b.heads == 0 {
		b.headLine = b.lines
	}
	b.heads++
	return true
}

// slowRow reads one line of any form.
func (q *parser) slowRow(b *block, line []byte) {
	bad, rows, last := b.bad, b.badRows, b.badLast
	q.oneRow(b, line)
	if b.badRows > rows {
		t := bytes.TrimSpace(bytes.TrimPrefix(line, []byte{oddMark}))
		if q.isBetween(t) {
			if q.isRemark(t) {
				q.lineRemark(b, t)
			}
			b.leaveOut(t, bad, rows, last)
		} else if q.isTorn(t) {
			b.tear(bad, rows, last)
		}
	}
}

func (q *parser) oneRow(b *block, line []byte) {
	if len(line) > 0 && line[0] == oddMark && q.p.long != nil {
		q.p.long.oddLine(b, line[1:])
		return
	}
	t := bytes.TrimSpace(line)
	if len(t) > 0 && t[0] == 0 && len(bytes.Trim(t, "\x00")) == 0 {
		t = nil // a logger that lost power leaves zeros behind
	}
	if len(t) == 0 || isComment(line) || q.headAgain(b, t) {
		if len(t) > 0 && isComment(line) {
			q.lineRemark(b, t)
		}
		b.skips = append(b.skips, int32(b.rows))
		return
	}
	cells, closed := splitCells(line, q.p.delim, b.cells[:0])
	b.cells = cells
	n := len(trimTail(cells))
	if n == 0 {
		b.skips = append(b.skips, int32(b.rows))
		return
	}
	switch {
	case !closed:
		b.reject(n, "", "a quote is never closed")
		return
	case n > q.width && !q.ownDelimiters(cells):
		b.reject(q.width+1, "", "found %d cells, expected %d", n, q.width)
		return
	case len(cells) < q.p.narrow:
		b.reject(len(cells)+1, anotherTable(cells), "found %d cells, expected %d", len(cells), q.p.narrow)
		return
	}
	r := b.rows
	values, words := 0, 0
	mark := len(b.words)
	for _, j := range q.active {
		var c cell
		if j < len(cells) {
			c = cells[j]
		}
		v, k := q.readAs(j, c.text)
		b.cols[j][r] = v
		switch k {
		case cellNumber:
			values++
		case cellOver:
			b.cols[j][r] = overMark(c.text)
			b.over[j]++
			b.miss[j]++
		case cellEmpty, cellMissing:
			b.miss[j]++
		case cellWord:
			words++
			b.miss[j]++
			b.word(j, c.text)
		default:
			b.undoWords(mark)
			b.reject(j+1, q.hint(j), "found %s, expected %s", quote(c.text), q.expected(j))
			return
		}
		if k == cellWord && q.isTime(j) {
			b.undoWords(mark)
			b.reject(j+1, q.hint(j), "found %s, expected %s", quote(c.text), q.expected(j))
			return
		}
	}
	if values == 0 && words > 0 {
		b.undoWords(mark)
		hint, columns := "", fmt.Sprintf("%d columns of numbers", len(q.active))
		if len(q.active) < 2 {
			hint, columns = "a capture is a table of readings: one row each, with columns for time, motor drive and feedback", "a number"
		}
		b.reject(1, hint, "found text %s, expected %s", quote(t), columns)
		return
	}
	if b.bad != nil {
		b.dataLate = true
		return
	}
	q.remarksOf(b, cells)
	b.rows++
}

func (q *parser) isTime(j int) bool {
	t := &q.p.time
	return t.mode != timeCount && (j == t.col || j == t.col2 && t.mode == timeDate || j == t.fraction && j > 0)
}

func (q *parser) hint(j int) string {
	if q.isTime(j) {
		return "if this is not the time, name the right column with --time"
	}
	return ""
}

func (q *parser) expected(j int) string {
	switch q.kinds[j] {
	case clockCol:
		return "a date and time as in the rows before"
	case dateCol:
		return "a date as in the rows before"
	case todCol:
		return "a time of day as in the rows before"
	}
	return "a number"
}

// quote shortens text for a message.
func quote(t []byte) string {
	s := utf8String(t)
	if r := []rune(s); len(r) > 40 {
		s = string(r[:37]) + "..."
	}
	return fmt.Sprintf("%q", s)
}

func (b *block) word(j int, t []byte) {
	for i := range b.words {
		if b.words[i].col == j {
			b.words[i].n++
			return
		}
	}
	b.words = append(b.words, oddWord{j, int64(b.lines), quote(t), 1})
}

func (b *block) undoWords(mark int) { b.words = b.words[:mark] }

// readAs reads a cell as its column demands.
func (q *parser) readAs(j int, t []byte) (float64, cellKind) {
	switch q.kinds[j] {
	case numberCol:
		c := &q.p.cols[j]
		if c.late && c.direction {
			if v, ok := c.polarity(t); ok {
				return v, cellNumber
			}
		}
		v, k := readCell(t, q.p.decOf(j))
		if k == cellQuantity || k == cellGrouped {
			k = cellNumber
		}
		if k == cellBad && len(t) > 0 && (t[0]|0x20 >= 'a' && t[0]|0x20 <= 'z') {
			k = cellWord
		}
		if k == cellWord && c.late {
			if v, ok := c.polarity(t); ok {
				return v, cellNumber
			}
		}
		return v, k
	case unitCol:
		if u, ok := findUnit(utf8String(t)); ok {
			return u.factor, cellEmpty
		}
		return 1, cellEmpty
	case wordCol:
		if len(t) == 0 {
			return math.NaN(), cellEmpty
		}
		if codes := q.p.cols[j].codes; codes != nil {
			if x, n := scanNumber(t, 0, q.p.decOf(j)); n == len(t) {
				if v, ok := codes[x]; ok {
					return v, cellNumber
				}
				return math.NaN(), cellWord
			}
		}
		if q.p.cols[j].onOff {
			if v, ok := onOffWords[strings.ToLower(string(t))]; ok {
				return v, cellNumber
			}
		}
		if v, ok := q.p.cols[j].polarity(t); ok {
			return v, cellNumber
		}
		if v, ok := onOffWords[strings.ToLower(string(t))]; ok {
			return v, cellNumber
		}
		if v, n := scanNumber(t, 0, q.p.decOf(j)); n == len(t) && math.Abs(v) <= 1 {
			return v, cellNumber
		}
		return math.NaN(), cellWord
	}
	if len(t) == 0 {
		return math.NaN(), cellEmpty
	}
	s, ok := q.p.readStamp(j, t)
	if !ok {
		if v, k := readCell(t, q.p.decOf(j)); k == cellMissing {
			return v, k
		}
		return math.NaN(), cellBad
	}
	v := 0.0
	if q.kinds[j] != todCol {
		if !s.hasDate {
			return math.NaN(), cellBad
		}
		d, ok := q.daysEitherWay(j, &s)
		if !ok {
			d, ok = s.days(q.p.cols[j].order)
		}
		if !ok {
			return math.NaN(), cellBad
		}
		v = float64(d-q.p.time.baseDays) * 86400
	}
	if q.kinds[j] != dateCol {
		v += s.sec - float64(s.zone)
	}
	return v, cellNumber
}

// applyUnits scales readings by the unit that stands beside each of them.
func (q *parser) applyUnits(b *block) {
	for _, j := range q.active {
		if q.kinds[j] != unitCol {
			continue
		}
		to, f := b.cols[q.p.cols[j].unitOf][:b.rows], b.cols[j][:b.rows]
		for r := range to {
			to[r] *= f[r]
		}
		b.miss[j] = 0
	}
}
