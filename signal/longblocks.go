package signal

import (
	"bytes"
	"fmt"
	"io"
)

// mostUnsorted bounds, in bytes, a file that must be in memory as a whole: one with its
// channels one after the other. It is some five million readings.
const mostUnsorted = 64 << 20

// A span is a stretch of a file with readings of one channel.
type span struct {
	text []byte
	line int64 // its first line, from 1
}

// readBlocks reads the rest of a file that may have its channels one after the other, and
// finds them. Where they are not there, f is nil and all of the text is given back.
func readBlocks(file string, t *table, f *longForm, head []byte, src *endWatch) (*longForm, []byte, error) {
	text, err := io.ReadAll(io.LimitReader(src, mostUnsorted-int64(len(head))+1))
	if err != nil {
		return nil, nil, readError(file, err)
	}
	text = append(head, text...)
	if f != nil {
		f, err = f.blocksByName(file, text)
	} else {
		f, err = t.blocksByHeading(file, text)
	}
	if f != nil && len(text) > mostUnsorted {
		return nil, nil, &SyntaxError{File: file, Msg: fmt.Sprintf("the channels stand one after the other in a file of more than %d MB, too much to be put side by side", mostUnsorted>>20),
			Hint: "export a column for each channel, or sort the rows by time"}
	}
	return f, text, err
}

// linesOf calls each for the lines of a text, with where they begin and their number.
func linesOf(text []byte, each func(line []byte, off int, n int64)) {
	n, off := int64(0), 0
	for line := range bytes.Lines(text) {
		n++
		each(bytes.TrimRight(line, "\r\n"), off, n)
		off += len(line)
	}
}

// blocksByName finds the stretches in which the rows of one channel stand. The first row
// that cannot be one is an error, but only in a file that has several channels.
func (f *longForm) blocksByName(file string, text []byte) (*longForm, error) {
	var wrong, odd *SyntaxError
	odds, prev, start := int64(0), -1, 0
	var startLine int64
	last := map[int]float64{}
	close := func(end int) {
		if prev >= 0 {
			f.channels[prev].spans = append(f.channels[prev].spans, span{text[start:end], startLine})
		}
		prev = -1
	}
	var cells []cell
	linesOf(text, func(line []byte, off int, n int64) {
		if n <= int64(f.first) || f.isNone(line) {
			return
		}
		var closed bool
		cells, closed = splitCells(line, f.delim, cells[:0])
		e := f.problem(cells, closed)
		switch {
		case e != nil:
			if close(off); odd == nil {
				odd = e
				odd.File, odd.Line = file, n
			}
			odds++
			return
		case odd != nil && wrong == nil:
			wrong = odd
		}
		c := f.channel(cells)
		if c != prev {
			close(off)
			prev, start, startLine = c, off, n
		}
		if e := f.blockRow(cells, c, last); e != nil && wrong == nil {
			wrong = e
			wrong.File, wrong.Line = file, n
		}
	})
	close(len(text))
	const few = 20 // lines of text at the end that are a footer, as in other files
	switch {
	case len(f.channels) < 2:
		return nil, nil
	case wrong == nil && odds > few:
		wrong = odd
	}
	if wrong != nil {
		return nil, wrong
	}
	if odds > 0 {
		f.footer = fmt.Sprintf("%s from line %d on no data and left out (%s)", plural(odds, "line is", "lines are"), odd.Line, odd.Msg)
	}
	return f, nil
}

// blockRow checks a row of channel c against those before, of which last has the times.
func (f *longForm) blockRow(cells []cell, c int, last map[int]float64) *SyntaxError {
	x, _ := f.at(cells)
	y, later := last[c]
	last[c] = x
	switch {
	case c >= mostChannels:
		return &SyntaxError{Column: f.name + 1, Msg: fmt.Sprintf("found %s, the name of channel %d, expected %d at most", quote(cells[f.name].text), c+1, mostChannels)}
	case !f.sameUnit(cells, c):
		return f.otherUnit(cells, c)
	case later && x < y:
		return f.backwards(cells, c)
	}
	return nil
}

func (f *longForm) backwards(cells []cell, c int) *SyntaxError {
	j := f.times[0]
	return &SyntaxError{Column: j + 1, Msg: fmt.Sprintf("time runs backwards within the channel %q, to %s", f.channels[c].name, quote(cells[j].text)),
		Hint: "split the file here, or sort the rows by time"}
}

func (f *longForm) otherUnit(cells []cell, c int) *SyntaxError {
	return &SyntaxError{Column: f.unit + 1, Msg: fmt.Sprintf("found the unit %s, expected %q as in the rows before of %q", quote(cells[f.unit].text), f.channels[c].unit, f.channels[c].name)}
}

// isNone tells a line between the readings that holds nothing.
func (f *longForm) isNone(line []byte) bool {
	t := bytes.TrimSpace(line)
	return len(bytes.Trim(t, "\x00")) == 0 || isComment(line) || f.heads[string(t)]
}

// A mixer gives the readings of channels that stand one after the other in the order of
// their times.
type mixer struct {
	f     *longForm
	feeds []feed
	taken int   // channel of the last reading given, -1 for none
	line  int64 // of that reading
}

// A feed is what is left of a channel, and its next reading.
type feed struct {
	spans []span
	cells []cell
	at    float64
	line  int64 // of the next reading
	next  int64 // line that follows
}

func newMixer(f *longForm) *mixer {
	m := &mixer{f: f, feeds: make([]feed, len(f.channels)), taken: -1}
	for c := range m.feeds {
		m.feeds[c].spans = append([]span{}, f.channels[c].spans...)
		if len(m.feeds[c].spans) > 0 {
			m.feeds[c].next = m.feeds[c].spans[0].line
		}
		m.advance(c)
	}
	return m
}

// advance reads the next line with a reading of channel c.
func (m *mixer) advance(c int) {
	d := &m.feeds[c]
	for len(d.spans) > 0 {
		s := &d.spans[0]
		if len(s.text) == 0 {
			if d.spans = d.spans[1:]; len(d.spans) > 0 {
				d.next = d.spans[0].line
			}
			continue
		}
		line, rest, _ := bytes.Cut(s.text, []byte{'\n'})
		s.text = rest
		d.line = d.next
		d.next++
		line = bytes.TrimRight(line, "\r")
		if m.f.isNone(line) {
			continue
		}
		d.cells, _ = splitCells(line, m.f.delim, d.cells[:0])
		m.f.sameUnit(d.cells, c)
		d.at, _ = m.f.at(d.cells)
		return
	}
	d.cells = nil
}

// next gives the earliest reading that is left, valid up to the next call, and its
// channel; nil at the end.
func (m *mixer) next() ([]cell, int) {
	if m.taken >= 0 {
		m.advance(m.taken)
	}
	best := -1
	for c := range m.feeds {
		if d := &m.feeds[c]; d.cells != nil && (best < 0 || d.at < m.feeds[best].at) {
			best = c
		}
	}
	if m.taken = best; best < 0 {
		return nil, 0
	}
	m.line = m.feeds[best].line
	return m.feeds[best].cells, best
}

// sourceLine is the line of the file from which line n of the table comes.
func (f *longForm) sourceLine(n int64) int64 {
	if f == nil || !f.unsorted || n <= int64(f.first) {
		return n
	}
	l := newLongReader(f, bytes.NewReader(nil))
	l.line = f.first
	for l.wrote < n-int64(f.first) && l.err == nil {
		l.out = l.out[:0]
		before := l.mix.line
		if l.step(); l.wrote >= n-int64(f.first) {
			return before
		}
	}
	return l.mix.line
}
