package signal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
)

// headSize is how much of a file is looked at to settle its shape; a longer
// look follows when no data were found in it.
const (
	headSize     = 64 << 10
	longHeadSize = 4 << 20
	footerLines  = 5 // odd lines at the end of the head that do not end the data
)

// Read reads a capture from r in one pass. Every error is a [SyntaxError],
// [RoleError], [OptionError] or [SourceError]: the text could not be read, or
// time, drive or feedback could not be told.
//
// r is the caller's again when Read returns, with an error too: what is left of
// it may be read on. An error therefore comes only after the call of r.Read
// under way has returned; where r is a pipe that may stay silent, whoever will
// not wait closes it, or lets its reads fail, from another goroutine.
func Read(r io.Reader, o Options) (*Trace, error) {
	red, a, err := readAll(r, &o)
	if err != nil {
		return nil, err
	}
	if a.err != nil {
		return nil, a.err
	}
	return red.trace(a, &o), nil
}

// OpenFile opens a capture; a directory is refused.
func OpenFile(path string) (*os.File, error) {
	f, err := os.Open(path)
	if err != nil {
		var pe *os.PathError
		if errors.As(err, &pe) {
			return nil, &SourceError{path, pe.Err.Error(), err}
		}
		return nil, &SourceError{path, err.Error(), err}
	}
	if st, err := f.Stat(); err == nil && st.IsDir() {
		f.Close()
		return nil, &SourceError{path, "is a directory, expected a CSV file", nil}
	}
	return f, nil
}

// readAll does what Read and Inspect share.
func readAll(r io.Reader, o *Options) (*reducer, *assignment, error) {
	p, src, err := open(r, o)
	if err != nil {
		return nil, nil, err
	}
	red := newReducer(p, o)
	if err := run(src, o, newParser(p), red.fold); err != nil {
		var se *SyntaxError
		if errors.As(err, &se) && se.Line == 0 { // the feeder does not count lines
			se.Line = red.line + 1
		}
		return nil, nil, err
	}
	if err := red.finish(); err != nil {
		return nil, nil, err
	}
	if red.rows == 0 {
		return nil, nil, noRows(p)
	}
	p.long.note(p)
	red.finalTimes()
	red.standingTimes()
	red.alignOwn()
	a, err := assign(p, red, o)
	if err != nil {
		return nil, nil, err
	}
	return red, a, nil
}

func noRows(p *plan) error {
	const many, few = 100, 20 // readings in a line, and lines
	if p.width >= many && len(p.lines) <= few {
		return &SyntaxError{File: p.file, Line: int64(p.first + 1), Msg: fmt.Sprintf("found %s with %d cells or more each: every channel has its readings in one line", plural(int64(p.end-p.first), "line", "lines"), many),
			Hint: "turn the table round, in a spreadsheet by pasting it transposed: a row for each time, a column for each channel"}
	}
	return &SyntaxError{File: p.file, Line: int64(p.first + 1), Msg: "no row with numbers could be read", Hint: "expected CSV text with columns of numbers"}
}

// open decodes the source, settles the shape from its head and returns a
// reader placed at the first row of data.
func open(r io.Reader, o *Options) (*plan, io.Reader, error) {
	if o.Source == "" {
		o.Source = "-"
	}
	if err := o.check(); err != nil {
		return nil, nil, err
	}
	t, err := openText(r, o.Source)
	if err != nil {
		return nil, nil, err
	}
	src := &endWatch{r: t}
	head := make([]byte, headSize)
	n, err := io.ReadFull(src, head)
	head = head[:n]
	if src.err != nil {
		return nil, nil, readError(o.Source, src.err)
	}
	tab := bestTable(headLines(head, err != nil))
	if err == nil && (tab == nil || tab.end < len(tab.lines)-footerLines) {
		// No data yet, or only numbers within a long preamble.
		more := make([]byte, longHeadSize)
		n, err = io.ReadFull(src, more)
		if src.err != nil {
			return nil, nil, readError(o.Source, src.err)
		}
		head = append(head, more[:n]...)
		tab = bestTable(headLines(head, err != nil))
	}
	if tab == nil {
		return nil, nil, noTable(o.Source, head)
	}
	early := tab.earlierTable()
	var data io.Reader = src
	if long, text, err := openLong(o.Source, tab, head, src); err != nil {
		return nil, nil, err
	} else if head = text; long != nil {
		if tab, head, data, err = long.table(o.Source, io.MultiReader(bytes.NewReader(head), src)); err != nil {
			return nil, nil, err
		}
	}
	p, err := makePlan(tab, o)
	if err != nil {
		return nil, nil, err
	}
	p.source = t
	p.noteEarlier(early)
	rest := head[tab.lines[tab.first].off:]
	return p, io.MultiReader(bytes.NewReader(rest), data), nil
}

// noTable says why no data were found.
func noTable(file string, head []byte) error {
	if len(bytes.TrimSpace(head)) == 0 {
		return &SyntaxError{File: file, Msg: "the file is empty", Hint: "expected CSV text with columns of numbers"}
	}
	if i := bytes.IndexByte(head, '\n'); i < 0 && len(head) >= headSize || i > maxLine {
		return &SyntaxError{File: file, Line: 1, Msg: "a line longer than 1 MB, expected rows of a table", Hint: "is this a CSV file?"}
	}
	if line := namesOnly(head); line > 0 {
		return &SyntaxError{File: file, Line: line, Msg: "the columns are named, but no readings follow",
			Hint: "was the recording empty? expected rows of numbers below the names"}
	}
	first, _, _ := bytes.Cut(bytes.TrimSpace(head), []byte{'\n'})
	return &SyntaxError{File: file, Line: 1, Msg: "no column of numbers found; the text begins " + quote(bytes.TrimSpace(first)),
		Hint: "expected CSV text with columns for time, drive and feedback"}
}
