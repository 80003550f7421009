package signal

import (
	"bytes"
	"slices"
	"strings"
)

// A blockHead is what the lines above a block of readings tell.
type blockHead struct {
	title       string // what the block is called
	time, value string // of the row of names
	unit        string
	from        int // line of the first of them that does, from 0; -1 for none
	start, end  float64
}

// pairForm is how a file of two columns is written, time and value.
func (t *table) pairForm() *longForm {
	f := &longForm{dialect: t.dialect, name: -1, unit: -1, heading: -1, times: []int{0}, value: 1, width: 2, names: -1, units: -1, unsorted: true, index: map[string]int{},
		clock: t.first < t.end && t.kind(t.first, 0) == cellClock}
	f.firstDay(t)
	return f
}

// isPair tells whether the table has two columns of which the first may be the time. It
// cannot be judged unless other channels follow below.
func (t *table) isPair() bool { return t.width == 2 && t.goesOn(t.pairForm()) }

// blocksByHeading finds blocks of two columns, time and value, that stand one below the
// other under headings with the names of channels. Pieces of one recording look alike:
// their headings have the same name or a number, or their times go on.
func (t *table) blocksByHeading(file string, text []byte) (*longForm, error) {
	f := t.pairForm()
	var heads []blockHead
	var above []headLine // lines of text since the last reading; off is the line
	var cells []cell
	open, start := false, 0
	close := func(end int) {
		if c := len(f.channels) - 1; open {
			f.channels[c].spans[0].text = text[start:end]
		}
		open = false
	}
	none := false
	var wrong *SyntaxError
	linesOf(text, func(line []byte, off int, n int64) {
		if len(bytes.Trim(line, " \t\x00")) == 0 || none || wrong != nil {
			return
		}
		var closed bool
		cells, closed = splitCells(line, t.delim, cells[:0])
		x, timed := f.at(cells)
		if !closed || len(cells) != 2 || !timed || f.problem(cells, true) != nil {
			if isComment(line) && (open || len(above) > 0) {
				return
			}
			close(off)
			above = append(above, headLine{bytes.TrimSpace(line), int(n) - 1})
			return
		}
		if !open {
			if len(above) == 0 || len(f.channels) == mostChannels {
				none = true
				return
			}
			if len(heads) == 0 {
				f.first = int(n) - 1
			}
			h := f.blockHead(above)
			h.start, h.end = x, x
			heads, above = append(heads, h), above[:0]
			f.channels = append(f.channels, longChannel{spans: []span{{line: n}}})
			open, start = true, off
		}
		h := &heads[len(heads)-1]
		if x < h.end {
			f.channels[len(heads)-1].name = h.title
			wrong = f.backwards(cells, len(heads)-1)
			wrong.File, wrong.Line = file, n
		}
		h.end = x
	})
	close(len(text))
	if none || !f.takeHeads(heads) {
		return nil, nil
	}
	if wrong != nil {
		return nil, wrong
	}
	if n := len(above); n > 0 {
		f.footer = plural(int64(n), "line of text behind the readings is", "lines of text behind the readings are") + " left out, first " + quote(above[0].text)
	}
	return f, nil
}

// blockHead reads the lines above a block, the nearest first.
func (f *longForm) blockHead(above []headLine) blockHead {
	h := blockHead{from: -1}
	keyed := false
	for _, l := range slices.Backward(above) {
		cells, _ := splitCells(stripComment(l.text), f.delim, nil)
		cells = trimTail(cells)
		if len(cells) == 0 {
			continue
		}
		first, second := utf8String(cells[0].text), utf8String(textOf(cells, 1))
		_, timeUnit := findUnit(first)
		unit, valueUnit := findUnit(second)
		_, _, u, _ := splitUnit(first)
		switch {
		case len(cells) == 2 && timeUnit && valueUnit && unit.q != seconds && h.value == "":
			h.unit = second
		case len(cells) == 2 && h.value == "" && (isTimeName(first) || u.q == seconds):
			h.time, h.value = first, second
		case !keyed && len(cells) <= 2:
			key, rest, ok := cutKey(cells)
			switch {
			case ok && isUnitHead(key):
				h.unit = rest
			case ok && headedBy(channelWords, key):
				h.title, keyed = rest, true
			case !ok && h.title == "":
				h.title = strings.Trim(first, "[]=*- \t")
			default:
				continue
			}
		default:
			continue
		}
		h.from = l.off
	}
	return h
}

// cutKey parts "Channel: drive" and a pair of cells.
func cutKey(cells []cell) (key, rest string, ok bool) {
	text := utf8String(cells[0].text)
	if len(cells) == 2 {
		return strings.TrimRight(text, " :="), utf8String(cells[1].text), true
	}
	i := strings.IndexAny(text, ":=")
	if i <= 0 || strings.TrimSpace(text[i+1:]) == "" {
		return text, "", false
	}
	return text[:i], strings.TrimSpace(text[i+1:]), true
}

// takeHeads names the channels by what tells them apart; false where nothing does, or the
// times go on from one to the next.
func (f *longForm) takeHeads(heads []blockHead) bool {
	if len(heads) < 2 {
		return false
	}
	distinct := func(name func(*blockHead) string) bool {
		seen := map[string]bool{}
		for k := range heads {
			s := name(&heads[k])
			if !hasLetterOrDigit([]byte(s)) || s[0] == '-' || s[0]-'0' <= 9 && len(s) > 3 || isPiece([]byte(s)) || seen[normal(s)] {
				return false
			}
			seen[normal(s)] = true
		}
		return true
	}
	byValue := distinct(func(h *blockHead) string { return h.value })
	if !byValue && !distinct(func(h *blockHead) string { return h.title }) {
		return false
	}
	for k, h := range heads {
		if h.start >= heads[0].end || heads[0].start >= h.end {
			return false
		}
		c := &f.channels[k]
		if c.name, c.unit = h.title, h.unit; byValue {
			c.name = h.value
		} else if _, text, _, ok := splitUnit(h.value); ok && c.unit == "" {
			c.unit = text
		}
		if _, _, _, ok := splitUnit(c.name); ok {
			c.unit = ""
		}
	}
	f.heading, f.timeHead = heads[0].from, []cellHead{{name: heads[0].time}}
	return true
}
