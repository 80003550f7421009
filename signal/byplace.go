package signal

import (
	"bytes"
	"math"
	"unicode/utf8"
)

// mostHeadLines is how far above the data names and units are looked for.
const mostHeadLines = 12

// A place is a stretch of a line, in characters.
type place struct{ from, to int }

// namesByPlace cuts the lines above a table of columns held apart by blanks where the
// names stand, not at each blank: "Lead A (V)" is one name. Lines of no more words than
// the data have columns are left as they are.
func (t *table) namesByPlace() {
	if t.delim != ' ' {
		return
	}
	for i := max(0, t.first-mostHeadLines); i < t.first; i++ {
		if t.kinds[i] == nil {
			continue
		}
		cells := t.cutNames(t.lines[i].text, t.cells[i])
		if len(cells) == len(t.cells[i]) {
			continue
		}
		t.cells[i], t.kinds[i] = cells, make([]cellKind, len(cells))
		for k, c := range cells {
			t.kinds[i][k] = classify(c, t.dec)
		}
	}
}

// cutNames cuts a line of more words than the data have columns into as many names: at
// wide gaps, else by the columns below, else behind the units. It gives the words back
// where none of these fits.
func (t *table) cutNames(line []byte, words []cell) []cell {
	if t.delim != ' ' || len(words) <= t.width || bytes.IndexByte(line, '"') >= 0 {
		return words
	}
	texts := chunks(line)
	if len(texts) != t.width {
		texts = textsAbove(line, t.columnPlaces())
	}
	if len(texts) != t.width {
		texts = behindUnits(words)
	}
	if len(texts) != t.width {
		return words
	}
	out := make([]cell, len(texts))
	for k, s := range texts {
		out[k].text = s
	}
	return out
}

// behindUnits puts each unit that stands in brackets behind the words before it.
func behindUnits(words []cell) [][]byte {
	var out [][]byte
	open := false
	for _, w := range words {
		if open {
			out[len(out)-1] = append(append(out[len(out)-1], ' '), w.text...)
		} else {
			out = append(out, bytes.Clone(w.text))
		}
		last := w.text[len(w.text)-1]
		open = last != ')' && last != ']'
	}
	return out
}

// chunks cuts a line where two blanks or a tab stand between texts.
func chunks(line []byte) [][]byte {
	var out [][]byte
	for half := range bytes.SplitSeq(bytes.TrimSpace(bytes.ReplaceAll(line, []byte{'\t'}, []byte("  "))), []byte("  ")) {
		if half = bytes.TrimSpace(half); len(half) > 0 {
			out = append(out, half)
		}
	}
	return out
}

// columnPlaces is where the columns of the data stand, nil when they do not keep their
// places. A column set to the right has the room from the one before, one set to the
// left that up to the next.
func (t *table) columnPlaces() []place {
	const enough = 50
	out := make([]place, t.width)
	right, left := true, true
	for j := range out {
		out[j].from = math.MaxInt
	}
	for i, seen := t.first, 0; i < t.end && seen < enough; i++ {
		if t.kinds[i] == nil || len(t.cells[i]) != t.width {
			continue
		}
		seen++
		line, at := t.lines[i].text, 0
		if bytes.IndexByte(line, '\t') >= 0 {
			return nil
		}
		for j, c := range t.cells[i] {
			k := bytes.Index(line[at:], c.text)
			if k < 0 {
				return nil
			}
			from := at + k
			at = from + len(c.text)
			w := place{utf8.RuneCount(line[:from]), utf8.RuneCount(line[:at])}
			right = right && (seen == 1 || w.to == out[j].to)
			left = left && (seen == 1 || w.from == out[j].from)
			out[j] = place{min(out[j].from, w.from), max(out[j].to, w.to)}
		}
	}
	for j := range out {
		if out[j].to == 0 || j > 0 && out[j].from < out[j-1].to {
			return nil
		}
	}
	for j := len(out) - 1; right && j > 0; j-- {
		out[j].from = out[j-1].to
	}
	for j := 0; left && !right && j < len(out)-1; j++ {
		out[j].to = out[j+1].from
	}
	return out
}

// textsAbove gives each word of a line to the column below it, the nearest one when it
// stands above none, in the order of the line. It gives nil when a column gets none.
func textsAbove(line []byte, columns []place) [][]byte {
	if columns == nil || bytes.IndexByte(line, '\t') >= 0 {
		return nil
	}
	out := make([][]byte, len(columns))
	last := 0
	for i := 0; i < len(line); {
		if line[i] == ' ' {
			i++
			continue
		}
		e := i
		for e < len(line) && line[e] != ' ' {
			e++
		}
		w := place{utf8.RuneCount(line[:i]), utf8.RuneCount(line[:e])}
		last = nearest(w, columns, last)
		if out[last] != nil {
			out[last] = append(out[last], ' ')
		}
		out[last] = append(out[last], line[i:e]...)
		i = e
	}
	for _, s := range out {
		if s == nil {
			return nil
		}
	}
	return out
}

// nearest is the column, from one on, with the least room between it and a word; of those
// that the word stands above, the one with the most in common.
func nearest(w place, columns []place, from int) int {
	best, room := from, math.MaxInt
	for j := from; j < len(columns); j++ {
		if r := max(columns[j].from, w.from) - min(columns[j].to, w.to); r < room {
			best, room = j, r
		}
	}
	return best
}
