package signal

import "bytes"

const (
	// mostTornRun is how many rows one behind the other may be torn: characters that a serial
	// line loses or a block of a card that cannot be read spoil a row or two, what goes on is
	// another table.
	mostTornRun = 3
	// tornShare is of how many rows one may be torn (chosen, not derived): a file with more
	// of them is of a shape that was not understood.
	tornShare = 100
)

// tornRows are rows within the table that came damaged: pieces of numbers with other cells
// than the rows about them.
type tornRows struct {
	n           int64
	first, last *SyntaxError // relative to the block or, in the reducer, first in the file
	run         int          // of them one behind the other, up to the last
	began       *SyntaxError // the first of the run
	lastLine    int          // relative
}

// isTorn tells whether a line that could not be read is a row that lost or gained
// characters on its way: all of its cells begin as numbers do. Words begin something else,
// and in a file without times nobody knows how long a row that is left out lasted.
func (q *parser) isTorn(line []byte) bool {
	if q.p.time.mode == timeCount || q.p.long != nil {
		return false
	}
	cells, closed := splitCells(line, q.p.delim, nil)
	cells = trimTail(cells)
	for _, c := range cells {
		if t := bytes.TrimLeft(c.text, "+-.,"); len(t) > 0 && t[0]-'0' > 9 {
			return false
		}
	}
	return closed && len(cells) > 0
}

// tear takes a torn row out, and the error for it back to what stood before, unless too many
// come one behind the other.
func (b *block) tear(bad *SyntaxError, rows, last int) {
	t := &b.torn
	if bad != nil {
		return
	}
	if t.n > 0 && t.lastLine == b.lines-1 {
		t.run++
	} else {
		t.run, t.began = 1, b.bad
	}
	if t.run > mostTornRun {
		b.bad = t.began
		return
	}
	if t.n == 0 {
		t.first = b.bad
	}
	t.n, t.last, t.lastLine = t.n+1, b.bad, b.lines
	b.bad, b.badRows, b.badLast = bad, rows, last
	b.skips = append(b.skips, int32(b.rows))
}

// endsTorn gives a torn row at the very end of the file back as what it is there: the row
// that was being written, or text behind the data.
func (b *block) endsTorn() {
	t := &b.torn
	if !b.last || t.n == 0 || t.lastLine != b.lines-1 || b.bad != nil {
		return
	}
	b.bad, b.badRows, b.badLast = t.last, 1, t.lastLine
	b.skips = b.skips[:len(b.skips)-1]
	if t.n--; t.n == 0 {
		t.first = nil
	}
}

// foldTorn keeps the torn rows of a block.
func (r *reducer) foldTorn(b *block) {
	if b.torn.n > 0 && r.torn.n == 0 {
		e := *b.torn.first
		e.File = r.p.file
		e.Line += r.line + 1
		r.torn.first = &e
	}
	r.torn.n += b.torn.n
}

// tooTorn is the error for the first torn row where they are too many to be accidents; else
// it says how many were left out.
func (r *reducer) tooTorn() error {
	t := &r.torn
	if t.n == 0 {
		return nil
	}
	if t.n*tornShare > r.rows || 2*r.nudged > r.rows { // times that stand are none
		return t.first
	}
	r.p.note("torn-rows", "%s within the table (the first in line %d: %s) and left out: characters were lost on the way to the file", plural(t.n, "row is damaged", "rows are damaged"), t.first.Line, t.first.Msg)
	return nil
}
