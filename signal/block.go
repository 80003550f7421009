package signal

import (
	"bytes"
	"fmt"
	"math"
	"strings"
)

// A block is a stretch of whole lines and, once parsed, their numbers by
// column. Blocks are reused.
type block struct {
	buf  []byte // text followed by pad bytes
	n    int    // bytes of text, ending with a line end
	last bool   // nothing follows
	cut  bool   // the last line had no line end

	lines int         // lines seen
	rows  int         // rows of data
	cols  [][]float64 // by column of the plan, NaN = missing; nil when skipped
	miss  []int64     // by column
	over  []int64
	skips []int32 // rows before which a line was skipped, once per line
	size  int     // capacity of every column in rows

	bad      *SyntaxError // first row that could not be read; Line is relative
	badRows  int
	badLast  int  // relative line of the last such row
	dataLate bool // data follow a bad row
	words    []oddWord

	cells []cell
	done  chan struct{}
	err   error
}

// An oddWord is text in a numeric column that is no known mark.
type oddWord struct {
	col  int
	line int64
	text string
	n    int64
}

// A parser turns the lines of a block into numbers, following a plan that no
// goroutine changes any more.
type parser struct {
	p        *plan
	active   []int // columns that are read
	kinds    []colKind
	width    int
	plain    bool   // only numbers and skipped columns: the fast path applies
	rowBytes int    // typical length of a row
	names    []byte // the header line, which loggers repeat after a restart
}

func newParser(p *plan) *parser {
	q := &parser{p: p, width: p.width, plain: p.delim != 0}
	for j := range p.cols {
		k := p.cols[j].kind
		q.kinds = append(q.kinds, k)
		if k != skipCol {
			q.active = append(q.active, j)
		}
		if k != skipCol && k != numberCol {
			q.plain = false
		}
	}
	first, last := p.lines[p.first], p.lines[p.end-1]
	q.rowBytes = max(2, (last.off+len(last.text)-first.off)/(p.end-p.first))
	if p.head.names >= 0 {
		q.names = bytes.TrimSpace(p.lines[p.head.names].text)
	}
	return q
}

func (b *block) reset(q *parser) {
	b.lines, b.rows = 0, 0
	b.skips, b.words = b.skips[:0], b.words[:0]
	b.bad, b.badRows, b.badLast, b.dataLate = nil, 0, 0, false
	if b.cols == nil {
		b.cols = make([][]float64, q.width)
		b.miss, b.over = make([]int64, q.width), make([]int64, q.width)
	}
	clear(b.miss)
	clear(b.over)
	if b.size == 0 {
		b.grow(q, b.n/q.rowBytes+64)
	}
}

func (b *block) grow(q *parser, size int) {
	for _, j := range q.active {
		c := make([]float64, size)
		copy(c, b.cols[j])
		b.cols[j] = c
	}
	b.size = size
}

// parse reads all lines of the block. A row that cannot be read does not end
// the work: whether it is an error or just text behind the data depends on
// what follows.
func (q *parser) parse(b *block) {
	b.reset(q)
	i := 0
	for i < b.n {
		if b.rows >= b.size {
			b.grow(q, 2*b.size)
		}
		if q.plain {
			i = q.fastRows(b, i)
			if i >= b.n {
				break
			}
			if b.rows >= b.size {
				continue
			}
		}
		e := bytes.IndexByte(b.buf[i:b.n], '\n')
		if e < 0 {
			e = b.n - i
		}
		q.slowRow(b, bytes.TrimRight(b.buf[i:i+e], "\r"))
		b.lines++
		i += e + 1
		if b.dataLate {
			return
		}
	}
	q.applyUnits(b)
}

// fastRows reads plain rows until one needs the slow path or the columns are
// full, and returns the index of the line it stopped at.
func (q *parser) fastRows(b *block, i int) int {
	if b.bad != nil {
		return i
	}
	buf, n := b.buf, b.n
	delim, dec := q.p.delim, q.p.dec
	width := q.width
	r, size := b.rows, b.size
	cols, kinds := b.cols[:width], q.kinds[:width]
	start := i
rows:
	for i < n && r < size {
		start = i
		missing := -1
		for c := 0; c < width; c++ {
			for buf[i] == ' ' {
				i++
			}
			if kinds[c] == skipCol {
				for buf[i] != delim {
					if buf[i] == '\n' || buf[i] == '"' || buf[i] == '\r' {
						break
					}
					i++
				}
				if buf[i] == '"' {
					break rows
				}
			} else {
				j := i
				sign := buf[i]
				if sign == '-' || sign == '+' {
					j++
				}
				v, next := scanShort(buf, j, dec)
				if ch := buf[next]; next == j || ch != delim && ch != '\n' && ch != '\r' && ch != ' ' {
					switch {
					case i == j && ch == delim && delim != ' ' && missing < 0:
						v, next = math.NaN(), i
						missing = c
					default:
						v, next = scanNumber(buf[:n], i, dec)
						if next == i || !(math.Abs(v) < tooLarge) {
							break rows
						}
						if ch := buf[next]; ch != delim && ch != '\n' && ch != '\r' && ch != ' ' {
							break rows
						}
					}
				} else if sign == '-' {
					v = -v
				}
				cols[c][r] = v
				i = next
			}
			if buf[i] == delim && delim != ' ' {
				i++
				continue
			}
			for buf[i] == ' ' {
				i++
			}
			if c == width-1 {
				break
			}
			if delim == ' ' {
				if buf[i] == '\n' || buf[i] == '\r' {
					break rows
				}
				continue
			}
			if buf[i] != delim {
				break rows
			}
			i++
		}
		for buf[i] == ' ' {
			i++
		}
		if buf[i] == '\r' {
			i++
		}
		if buf[i] != '\n' {
			break rows
		}
		i++
		if missing >= 0 {
			if q.allMissing(b, r) {
				break rows
			}
			b.miss[missing]++
		}
		r++
		start = i
	}
	b.lines += r - b.rows
	b.rows = r
	return start
}

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

// slowRow reads one line of any form.
func (q *parser) slowRow(b *block, line []byte) {
	t := bytes.TrimSpace(line)
	if len(t) > 0 && t[0] == 0 && len(bytes.Trim(t, "\x00")) == 0 {
		t = nil // a logger that lost power leaves zeros behind
	}
	if len(t) == 0 || isComment(line) || len(q.names) > 0 && bytes.Equal(t, q.names) {
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
	case n > q.width:
		b.reject(q.width+1, "", "found %d cells, expected %d", n, q.width)
		return
	case len(cells) < q.p.narrow:
		b.reject(len(cells)+1, "", "found %d cells, expected %d", len(cells), q.p.narrow)
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
		b.reject(1, "", "found text %s, expected %d columns of numbers", quote(t), len(q.active))
		return
	}
	if b.bad != nil {
		b.dataLate = true
		return
	}
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
		v, k := readCell(t, q.p.dec)
		if k == cellQuantity || k == cellGrouped {
			k = cellNumber
		}
		if k == cellBad && len(t) > 0 && (t[0]|0x20 >= 'a' && t[0]|0x20 <= 'z') {
			k = cellWord
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
		if q.p.cols[j].onOff {
			if v, ok := onOffWords[strings.ToLower(string(t))]; ok {
				return v, cellNumber
			}
		}
		if v, ok := polarity(t); ok {
			return v, cellNumber
		}
		if v, ok := onOffWords[strings.ToLower(string(t))]; ok {
			return v, cellNumber
		}
		if v, n := scanNumber(t, 0, q.p.dec); n == len(t) {
			return v, cellNumber
		}
		return math.NaN(), cellWord
	}
	if len(t) == 0 {
		return math.NaN(), cellEmpty
	}
	s, ok := readClock(t)
	if !ok {
		if v, k := readCell(t, q.p.dec); k == cellMissing {
			return v, k
		}
		return math.NaN(), cellBad
	}
	v := 0.0
	if q.kinds[j] != todCol {
		if !s.hasDate {
			return math.NaN(), cellBad
		}
		d, ok := s.days(q.p.cols[j].order)
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

// lineOf gives the line of row r relative to the start of the block, 0-based.
func (b *block) lineOf(r int) int {
	n := r
	for _, s := range b.skips {
		if int(s) <= r {
			n++
		}
	}
	return n
}
