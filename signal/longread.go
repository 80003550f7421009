package signal

import (
	"bufio"
	"bytes"
	"io"
	"strconv"
)

// oddMark begins a line that is no reading in the table that a longReader writes; the rest
// is the line as it stands in the file.
const oddMark = 0x1e

// longLook is how far into a file in the order of time its channels are looked for.
const longLook = 1 << 20

// mostOfInstant bounds the rows that are kept of one stamp: a clock that stands must not
// fill the memory.
const mostOfInstant = 4096

// A longReader writes the table with a column for each channel that a file of one reading
// a row holds, in tabs. The readings of an instant become one row, or as many as its most
// frequent channel has there; a channel without one has an empty cell, which the reader
// takes for what it is. In a file in the order of time the row stands in the line of the
// last of them, with the lines before it empty: lines keep their numbers.
type longReader struct {
	f     *longForm
	src   *bufio.Reader
	mix   *mixer // of the readings, where channels stand one after the other
	line  int    // lines read
	long  []byte // what came of a line that does not fit into the buffer of src
	cells []cell
	out   []byte
	sent  int // of out
	err   error

	// The readings of an instant.
	at     float64
	stamp  []byte     // the cells of its time
	values [][][]byte // by row and channel; those of earlier instants are used again
	filled []int      // readings, by channel
	rows   int
	lines  int   // lines since the last row
	wrote  int64 // rows in all
}

func newLongReader(f *longForm, src io.Reader) *longReader {
	l := &longReader{f: f, src: bufio.NewReaderSize(src, blockSize), filled: make([]int, len(f.channels))}
	if f.unsorted {
		l.mix = newMixer(f)
	}
	return l
}

// openLong tells whether a file has one reading in a row, or its channels one below the
// other, and how; nil when not. It gives back what it has read: a longer look for all the
// channels, and all of a file that must be in memory.
func openLong(file string, t *table, head []byte, src *endWatch) (*longForm, []byte, error) {
	f := t.longForm()
	if f != nil && !f.unsorted {
		more := make([]byte, longLook)
		n, err := io.ReadFull(src, more)
		if src.err != nil {
			return nil, nil, readError(file, src.err)
		}
		head = append(head, more[:n]...)
		if t = cut(headLines(head, err != nil), t.dialect); t == nil {
			return nil, head, nil
		}
		f = t.longForm()
	}
	if f == nil && !t.isPair() || f != nil && !f.unsorted {
		return f, head, nil
	}
	return readBlocks(file, t, f, head, src)
}

// table gives the head of the table that stands for the file, and the rest of it.
func (f *longForm) table(file string, src io.Reader) (*table, []byte, io.Reader, error) {
	l := newLongReader(f, src)
	head := make([]byte, headSize)
	n, err := io.ReadFull(l, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return nil, nil, nil, readError(file, err)
	}
	head = head[:n]
	t := cut(headLines(head, err != nil), dialect{'\t', f.dec})
	if t == nil {
		return nil, nil, nil, noTable(file, head)
	}
	t.long = f
	return t, head, l, nil
}

func (l *longReader) Read(p []byte) (int, error) {
	for l.sent == len(l.out) {
		if l.err != nil {
			return 0, l.err
		}
		l.out, l.sent = l.out[:0], 0
		for l.err == nil && len(l.out) < len(p) {
			l.step()
		}
	}
	n := copy(p, l.out[l.sent:])
	l.sent += n
	return n, nil
}

// step takes the next line, or the next reading of channels one after the other.
func (l *longReader) step() {
	if l.mix != nil && l.line == l.f.first {
		cells, c := l.mix.next()
		if cells != nil {
			l.take(cells, c)
			return
		}
		l.flush()
		l.err = io.EOF
		return
	}
	line, err := l.src.ReadSlice('\n')
	if err == bufio.ErrBufferFull && len(l.long) < maxLine {
		l.long = append(l.long, line...)
		return
	}
	line, l.long = append(l.long, line...), nil
	switch {
	case err == bufio.ErrBufferFull: // the reader of the table refuses it
		l.flush()
		l.out = append(l.out, line...)
		return
	case len(line) > 0 && l.line < l.f.first:
		l.line++
		l.above(bytes.TrimRight(line, "\r\n"))
	case len(line) > 0:
		l.line++
		l.below(bytes.TrimRight(line, "\r\n"), err != nil)
	}
	if l.err = err; err != nil {
		l.flush()
	}
}

// above writes a line of the preamble.
func (l *longReader) above(line []byte) {
	i := l.line - 1
	cells, closed := splitCells(line, l.f.delim, l.cells[:0])
	switch {
	case i == l.f.names || i == l.f.units || i >= l.f.heading && l.f.heading >= 0:
	case isComment(line), !closed: // or a name that goes on in the next line
		l.out = append(l.out, line...)
	default:
		l.out = appendCells(l.out, cells)
	}
	l.out = append(l.out, '\n')
}

// below takes a line of the readings, which the end of the file may have cut.
func (l *longReader) below(line []byte, cut bool) {
	t := bytes.TrimSpace(line)
	if len(bytes.Trim(t, "\x00")) == 0 || isComment(line) || l.f.heads[string(t)] {
		l.lines++
		return
	}
	cells, closed := splitCells(line, l.f.delim, l.cells[:0])
	l.cells = cells
	odd := l.f.problem(cells, closed) != nil
	c, known := 0, false
	if !odd {
		c, known = l.f.index[string(cells[l.f.name].text)]
	}
	switch {
	case odd, known && (!l.f.sameUnit(cells, c) || cut && l.f.isCut(cells, c)):
		l.flush()
		l.out = append(append(append(l.out, oddMark), line...), '\n')
	case known:
		l.f.channels[c].style.add(cells[l.f.value].text)
		l.take(cells, c)
		l.lines++
	default:
		l.lines++
		if l.f.late++; l.f.late == 1 {
			l.f.lateName, l.f.lateLine = utf8String(cells[l.f.name].text), int64(l.line)
		}
	}
}

// take takes a reading of channel c.
func (l *longReader) take(cells []cell, c int) {
	at, _ := l.f.at(cells)
	if l.rows > 0 && at != l.at || l.rows == mostOfInstant {
		l.flush()
	}
	if l.rows == 0 {
		l.at, l.stamp = at, l.stamp[:0]
		for k, j := range l.f.times {
			if k > 0 {
				l.stamp = append(l.stamp, '\t')
			}
			l.stamp = appendCell(l.stamp, cells[j].text)
		}
	}
	k := l.filled[c]
	if l.filled[c]++; k == l.rows {
		l.rows++
		if k == len(l.values) {
			l.values = append(l.values, make([][]byte, len(l.filled)))
		}
	}
	l.values[k][c] = append(l.values[k][c][:0], cells[l.f.value].text...)
}

// flush writes the rows of the instant, in the last of its lines.
func (l *longReader) flush() {
	if l.mix == nil {
		for range l.lines - l.rows {
			l.out = append(l.out, '\n')
		}
	}
	for k := range l.rows {
		l.out = append(l.out, l.stamp...)
		for c, n := range l.filled {
			if l.out = append(l.out, '\t'); k < n {
				l.out = appendCell(l.out, l.values[k][c])
			}
		}
		l.out = append(l.out, '\n')
	}
	l.wrote += int64(l.rows)
	clear(l.filled)
	l.rows, l.lines = 0, 0
}

func appendCells(out []byte, cells []cell) []byte {
	for j, c := range cells {
		if j > 0 {
			out = append(out, '\t')
		}
		out = appendCell(out, c.text)
	}
	return out
}

// appendCell writes a cell, in quotes where it needs them.
func appendCell(out, text []byte) []byte {
	if bytes.IndexByte(text, '\t') < 0 && bytes.IndexByte(text, '"') < 0 {
		return append(out, text...)
	}
	out = append(out, '"')
	out = append(out, bytes.ReplaceAll(text, []byte{'"'}, []byte(`""`))...)
	return append(out, '"')
}

// sameUnit brings a value with another unit than the first of its channel to that one;
// false where there is no way to.
func (f *longForm) sameUnit(cells []cell, c int) bool {
	if f.unit < 0 {
		return true
	}
	text, first := utf8String(textOf(cells, f.unit)), f.channels[c].unit
	if text == "" || text == first {
		return true
	}
	from, ok := findUnit(text)
	to, known := findUnit(first)
	if !ok || !known || from.q != to.q || from.q == otherQuantity && from != to {
		return false
	}
	if x, k := readCell(cells[f.value].text, f.dec); k == cellNumber && from.factor != to.factor {
		b := strconv.AppendFloat(nil, x*from.factor/to.factor, 'g', -1, 64)
		cells[f.value].text = bytes.Replace(b, []byte{'.'}, []byte{f.dec}, 1)
	}
	return true
}

// A cellStyle is how the values of a channel are written.
type cellStyle struct {
	n             int
	least, places int
	varies        bool // the number of places
}

func (s *cellStyle) add(text []byte) {
	places := rowShape{text: string(text)}.places()
	s.varies = s.varies || s.n > 0 && places != s.places
	if s.places = places; s.n == 0 || len(text) < s.least {
		s.least = len(text)
	}
	s.n++
}

// isCut tells whether the value of a line that the end of the file has cut lacks digits,
// as dropCutRow does for other files.
func (f *longForm) isCut(cells []cell, c int) bool {
	s := &f.channels[c].style
	if len(trimTail(cells)) != f.value+1 || s.n < fewNeighbours {
		return false
	}
	text := cells[f.value].text
	if !s.varies && s.places > 0 {
		return rowShape{text: string(text)}.places() < s.places
	}
	return len(text) < s.least-1
}

// oddLine rejects a line of the file that is no reading.
func (f *longForm) oddLine(b *block, line []byte) {
	cells, closed := splitCells(line, f.delim, b.cells[:0])
	b.cells = cells
	if e := f.problem(cells, closed); e != nil {
		b.reject(e.Column, e.Hint, "%s", e.Msg)
		return
	}
	k := f.index[string(cells[f.name].text)]
	if !f.sameUnit(cells, k) {
		b.reject(f.unit+1, "", "%s", f.otherUnit(cells, k).Msg)
		return
	}
	b.reject(f.value+1, "", "found %s at the end of the file, expected as many digits as in the rows before of %q", quote(cells[f.value].text), f.channels[k].name)
}
