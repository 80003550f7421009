package signal

import (
	"bytes"
	"math"
)

// A block is a stretch of whole lines and, once parsed, their numbers by
// column. Blocks are reused.
type block struct {
	buf  []byte // text followed by pad bytes
	n    int    // bytes of text, ending with a line end
	last bool   // nothing follows
	cut  bool   // the last line had no line end

	lines           int         // lines seen
	rows            int         // rows of data
	cols            [][]float64 // by column of the plan, NaN = missing; nil when skipped
	miss            []int64     // by column
	over            []int64
	skips           []int32 // rows before which a line was skipped, once per line
	heads, headLine int     // lines above the data that came again; the first, relative
	size            int     // capacity of every column in rows

	bad      *SyntaxError // first row that could not be read; Line is relative
	badRows  int
	badLast  int  // relative line of the last such row
	dataLate bool // data follow a bad row
	words    []oddWord
	between  betweenLine // lines of text that were left out
	torn     tornRows
	remarks  remarks

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
	remarks  []int // columns of remarks
	needed   int   // the last column that every row has
	kinds    []colKind
	width    int
	plain    bool            // only numbers and skipped columns: the fast path applies
	rowBytes int             // typical length of a row
	headings map[string]bool // those of them that are no names, without their numbers
	heads    [][]byte        // the lines above the data, which loggers repeat after a restart
}

func newParser(p *plan) *parser {
	q := &parser{p: p, width: p.width, plain: p.delim != 0}
	q.needed = p.width - 1
	for j := range p.cols {
		k := p.cols[j].kind
		if p.cols[j].remarks {
			q.remarks = append(q.remarks, j)
			q.kinds = append(q.kinds, remarkCol)
			if j == p.width-1 && p.narrow < p.width {
				q.needed = j - 1
			}
			continue
		}
		q.kinds = append(q.kinds, k)
		if k != skipCol {
			q.active = append(q.active, j)
		}
		if k != skipCol && k != numberCol || p.decOf(j) != p.dec {
			q.plain = false
		}
	}
	first, last := p.lines[p.first], p.lines[p.end-1]
	q.rowBytes = max(2, (last.off+len(last.text)-first.off)/(p.end-p.first))
	const header = 4 // lines of names, units and sources; what is above is of the recording
	for i := p.first - 1; i >= 0 && (len(q.heads) < header || i >= p.head.names && p.head.names >= 0); i-- {
		if p.kinds[i] != nil {
			q.heads = append(q.heads, bytes.TrimSpace(p.lines[i].text))
		}
	}
	q.headings = headingsOf(p)
	return q
}

func (b *block) reset(q *parser) {
	b.heads, b.headLine = 0, 0
	b.lines, b.rows = 0, 0
	b.skips, b.words = b.skips[:0], b.words[:0]
	b.bad, b.badRows, b.badLast, b.dataLate = nil, 0, 0, false
	b.between, b.torn = betweenLine{}, tornRows{}
	b.remarks.reset(q.width)
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
	r := b.rows
	for i < b.n && r < b.size {
		next, missing, ok := q.fastRow(b, r, i)
		if !ok {
			break
		}
		if missing >= 0 {
			if q.allMissing(b, r) {
				break
			}
			b.miss[missing]++
		}
		i = next
		r++
	}
	b.lines += r - b.rows
	b.rows = r
	return i
}

// fastRow reads one row at i into row r of the columns. It gives where the next line
// begins and which cell was empty, -1 for none; false where the row needs the slow
// path.
func (q *parser) fastRow(b *block, r, i int) (next, missing int, ok bool) {
	buf, width := b.buf, q.width
	delim, dec := q.p.delim, q.p.dec
	cols, kinds := b.cols[:width], q.kinds[:width]
	missing = -1
	for c := 0; c < width; c++ {
		for buf[i] == ' ' {
			i++
		}
		if kinds[c] <= remarkCol {
			from := i
			for buf[i] != delim && buf[i] != '\n' && buf[i] != '"' && buf[i] != '\r' {
				i++
			}
			if buf[i] == '"' || i > from && kinds[c] == remarkCol {
				return i, missing, false
			}
		} else {
			j := i
			sign := buf[i]
			if sign == '-' || sign == '+' {
				j++
			}
			v, end := scanShort(buf, j, dec)
			switch ch := buf[end]; {
			case end > j && (ch == delim || ch == ' ' || ch == '\n' || ch == '\r'):
				if sign == '-' {
					v = -v
				}
			case i == j && ch == delim && delim != ' ' && missing < 0:
				v, end = math.NaN(), i
				missing = c
			default:
				if v, end, ok = longNumber(buf, b.n, i, delim, dec); !ok {
					return i, missing, false
				}
			}
			cols[c][r] = v
			i = end
		}
		if buf[i] == delim && delim != ' ' {
			i++
		} else if i, ok = cellEnd(buf, i, delim, c >= q.needed); !ok {
			return i, missing, false
		}
	}
	for buf[i] == ' ' {
		i++
	}
	if buf[i] == '\r' {
		i++
	}
	return i + 1, missing, buf[i] == '\n'
}

// longNumber reads from the first n bytes a number that scanShort does not; false where
// the cell is none.
func longNumber(buf []byte, n, i int, delim, dec byte) (v float64, end int, ok bool) {
	v, end = scanNumber(buf[:n], i, dec)
	if end == i || !(math.Abs(v) < tooLarge) {
		return v, end, false
	}
	ch := buf[end]
	return v, end, ch == delim || ch == ' ' || ch == '\n' || ch == '\r'
}

// cellEnd goes past the blanks behind a cell, or that separate it from the next one;
// false where something else follows.
func cellEnd(buf []byte, i int, delim byte, last bool) (next int, ok bool) {
	for buf[i] == ' ' {
		i++
	}
	switch {
	case last:
		return i, true
	case delim == ' ':
		return i, buf[i] != '\n' && buf[i] != '\r'
	case buf[i] == delim:
		return i + 1, true
	}
	return i, false
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
