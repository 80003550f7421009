package signal

import (
	"bytes"
	"fmt"
	"strings"
)

// A longForm is how a file is written that has one reading in a row: the time, the name of
// a channel, its value. It is read as the table with a column for each channel that holds
// the same: longReader writes that table, and nothing behind it knows of the difference.
type longForm struct {
	dialect
	times     []int // columns of the time: one, or a date and a time of day
	name      int   // column of the channels' names; -1 where headings name them
	value     int
	unit      int // column of the values' units, -1 for none
	width     int // cells of a row
	first     int // line of the first reading, from 0
	names     int // line of the names, -1 for none
	units     int
	day       int64 // of the first stamp
	clock     bool  // the times are stamps
	timeHead  []cellHead
	valueHead cellHead
	heads     map[string]bool // the lines above the readings, which loggers repeat
	channels  []longChannel
	index     map[string]int // of the channels, by name
	unsorted  bool           // channels stand one after the other
	heading   int            // line above the readings from which on they are headings, -1 for none
	footer    string         // what came of lines behind the readings of an unsorted file
	late      int64          // readings of channels that the head does not have
	lateName  string         // the first of these
	lateLine  int64
}

// A cellHead is what stands over a column.
type cellHead struct{ name, unit string }

// A longChannel is one of the channels of such a file.
type longChannel struct {
	cellHead
	spans []span    // where its readings stand, when the file is unsorted
	style cellStyle // of its values so far
}

// mostChannels bounds what is kept of one instant; more is no list of channels.
const mostChannels = 64

// channelWords head a column that names the channel of each reading, and valueWords the
// one that has the reading.
var (
	channelWords = wordSet("channel|channels|ch|chan|signal|signals|sensor|parameter|param|variable|name|tag|series|item|field|metric|input|trace|probe|kanal|messgröße|größe|messstelle|canal|voie|capteur|señal|grandezza|segnale|canale|kanał|sygnał|канал")
	valueWords   = wordSet("value|values|val|reading|readings|wert|werte|messwert|valeur|valor|lectura|valore|lettura|waarde|wartość|värde|значение|result|y")
)

func headedBy(words map[string]bool, head string) bool {
	for w := range strings.FieldsSeq(normal(head)) {
		if words[w] {
			return true
		}
	}
	return false
}

// longForm tells whether the table has one reading in a row, and how; nil when it is a
// table of its own. Text beside readings may as well be the words of a drive, a state or
// a remark. What tells is that only one column has readings, as in no other table that
// can be judged unless the words are the drive, and how names and times go together (see
// longRows.tell).
func (t *table) longForm() *longForm {
	h := t.findHeader()
	f := &longForm{dialect: t.dialect, name: -1, value: -1, unit: -1, heading: -1, width: t.width, first: t.first, names: h.names, units: h.units, index: map[string]int{}}
	head := func(j int) cellHead {
		c := cellHead{unit: h.unit[j]}
		if h.names >= 0 {
			if cells := t.headCells(h.names); j < len(cells) {
				c.name = utf8String(cells[j].text) // findHeader leaves "channel" out, as the label of a row
			}
		}
		return c
	}
	var texts, numbers []int
	for j := range t.width {
		c := t.longColumn(j)
		switch {
		case c.clocks:
			f.times = append(f.times, j)
		case c.units || isUnitHead(head(j).name) && c.text:
			f.unit = j
		case c.text && headedBy(channelWords, head(j).name):
			texts = append([]int{j}, texts...)
		case c.text:
			texts = append(texts, j)
		case c.varies && !isIndexName(head(j).name):
			numbers = append(numbers, j)
		}
	}
	f.clock = len(f.times) > 0
	f.firstDay(t)
	if !f.clock {
		numbers = f.numericTime(t, numbers, head)
	}
	if len(numbers) > 1 {
		valued := numbers[:0]
		for _, j := range numbers {
			if headedBy(valueWords, head(j).name) {
				valued = append(valued, j)
			}
		}
		numbers = valued
	}
	if len(f.times) == 0 || len(f.times) > 2 || len(numbers) != 1 {
		return nil
	}
	f.value = numbers[0]
	for _, j := range f.times {
		f.timeHead = append(f.timeHead, head(j))
	}
	if r, w := headerRole(head(f.value).name); w != "" && r != Unused && !headedBy(valueWords, head(f.value).name) {
		return nil // a channel by itself
	}
	for _, j := range texts {
		if f.name = j; f.told(t, head(j).name) {
			f.valueHead = head(f.value)
			f.settle(t)
			return f
		}
	}
	return nil
}

// A longColumn is what the cells of a column are, all of the data block alike.
type longColumn struct{ clocks, text, units, varies bool }

func (t *table) longColumn(j int) longColumn {
	words := map[string]bool{}
	n := [cellBad + 1]int{}
	filled, varies := 0, false
	var last []byte
	for i := t.first; i < t.end; i++ {
		k := t.kind(i, j)
		if t.kinds[i] == nil || k == cellEmpty {
			continue
		}
		filled++
		n[k]++
		varies = varies || last != nil && !bytes.Equal(last, t.text(i, j))
		last = t.text(i, j)
		if k != cellNumber && len(words) <= mostChannels {
			words[string(last)] = true
		}
	}
	c := longColumn{clocks: filled > 0 && 2*n[cellClock] >= filled, varies: varies && n[cellNumber]+n[cellQuantity]+n[cellGrouped] > 0}
	c.text = filled > 0 && n[cellNumber] == 0 && !c.clocks && n[cellWord]+n[cellBad] > 0 && len(words) <= mostChannels
	c.units = c.text && n[cellQuantity]+n[cellBad] == 0
	for s := range words {
		if _, ok := findUnit(utf8String([]byte(s))); !ok {
			c.units = false
		}
	}
	return c
}

func isUnitHead(s string) bool {
	return anyOf(normal(s), "unit", "units", "einheit", "unité", "unidad", "unità", "eenheid", "jednostka")
}

// numericTime takes the column of times out of the columns of numbers: one that goes on,
// by its name before any other.
func (f *longForm) numericTime(t *table, numbers []int, head func(int) cellHead) []int {
	best := -1
	for k, j := range numbers {
		_, _, u, _ := splitUnit(head(j).name)
		named := isTimeName(head(j).name) || u.q == seconds
		if f.times = []int{j}; t.goesOn(f) && (best < 0 || named) {
			if best = k; named {
				break
			}
		}
	}
	f.times = nil
	if best < 0 {
		return numbers
	}
	f.times = []int{numbers[best]}
	return append(append([]int{}, numbers[:best]...), numbers[best+1:]...)
}

// goesOn tells whether a column of numbers hardly ever goes back.
func (t *table) goesOn(f *longForm) bool {
	const seldom = 20 // of so many steps one may: where a channel or a recording begins anew
	steps, back, prev := 0, 0, 0.0
	for i := t.first; i < t.end; i++ {
		x, ok := f.at(t.cells[i])
		if t.kinds[i] == nil || !ok {
			continue
		}
		if x < prev && steps > 0 {
			back++
		}
		prev = x
		steps++
	}
	return back*seldom <= steps
}

// firstDay keeps the day of the first stamp: seconds since then keep their digits.
func (f *longForm) firstDay(t *table) {
	for _, j := range f.times {
		if s, ok := readClock(t.text(t.first, j)); ok && s.hasDate {
			f.day, _ = s.days(orderDMY)
		}
	}
}

// at is the time of a row in the written unit, of a clock in s; for comparing only, and so
// it does not matter which way round day and month are unless the file runs over both.
func (f *longForm) at(cells []cell) (x float64, ok bool) {
	for _, j := range f.times {
		if j >= len(cells) {
			return 0, false
		}
		if !f.clock {
			x, k := readCell(cells[j].text, f.dec)
			return x, k == cellNumber || k == cellQuantity || k == cellGrouped
		}
		s, ok := readClock(cells[j].text)
		if !ok {
			return 0, false
		}
		d, ok := s.days(orderDMY)
		if !ok {
			if d, ok = s.days(orderMDY); !ok && s.hasDate {
				return 0, false
			}
		}
		if s.hasDate {
			x += day * float64(d-f.day)
		}
		x += s.sec - float64(s.zone)
	}
	return x, true
}

// settle keeps the channels of the head and what stands over them.
func (f *longForm) settle(t *table) {
	// A value in words above the first number was taken for preamble.
	for i := t.first - 1; i > max(f.names, f.units) && t.kinds[i] != nil && f.problem(t.cells[i], true) == nil; i-- {
		f.first = i
	}
	f.heads = map[string]bool{}
	for i := f.first - 1; i >= 0 && i >= f.first-4; i-- { // names, units, sources
		if t.kinds[i] != nil {
			f.heads[string(bytes.TrimSpace(t.lines[i].text))] = true
		}
	}
	for i, cells := range t.cells[f.first:] {
		if t.kinds[f.first+i] != nil && f.problem(cells, true) == nil {
			f.channel(cells)
		}
	}
}

// channel is the index of the channel of a row, which may be a new one.
func (f *longForm) channel(cells []cell) int {
	name := utf8String(cells[f.name].text)
	if c, ok := f.index[name]; ok {
		return c
	}
	c := longChannel{cellHead: cellHead{name: name}}
	if _, _, _, ok := splitUnit(name); !ok {
		c.unit = f.valueHead.unit
		if _, text, _, ok := splitUnit(f.valueHead.name); ok {
			c.unit = text
		}
	}
	if f.unit >= 0 && f.unit < len(cells) {
		c.unit = utf8String(cells[f.unit].text)
	}
	f.index[name] = len(f.channels)
	f.channels = append(f.channels, c)
	return f.index[name]
}

// over puts the names of the channels over the table that is read in the file's place.
func (f *longForm) over(h *header) {
	h.names, h.units = f.names, f.units
	for j := range h.name {
		c := cellHead{}
		if k := j - len(f.times); k < 0 {
			c = f.timeHead[j]
		} else if k < len(f.channels) {
			c = f.channels[k].cellHead
		}
		h.name[j], h.unit[j] = c.name, c.unit
	}
}

// note says how the file was read.
func (f *longForm) note(p *plan) {
	if f == nil {
		return
	}
	var names []string
	for _, c := range f.channels[:min(len(f.channels), 8)] {
		names = append(names, c.name)
	}
	if len(f.channels) > len(names) {
		names = append(names, "...")
	}
	how := "one reading in a row"
	switch {
	case f.name < 0:
		how = "one channel below the other"
	case f.unsorted:
		how = "one reading in a row and one channel below the other"
	}
	p.note("long", "the file has %s: its %d channels (%s) are read as columns side by side, and readings of the same time as one row", how, len(f.channels), strings.Join(names, ", "))
	if f.footer != "" {
		p.note("footer", "%s", f.footer)
	}
	if f.late > 0 {
		p.note("late-channel", "%s left out, the first of %q in line %d: the channel begins too late in the file (behind its first %d MB)", plural(f.late, "reading is", "readings are"), f.lateName, f.lateLine, longLook>>20)
	}
}

// problem says what keeps a row from being a reading, nil when nothing does.
func (f *longForm) problem(cells []cell, closed bool) *SyntaxError {
	n := len(trimTail(cells))
	bad := func(col int, format string, args ...any) *SyntaxError {
		return &SyntaxError{Column: col, Msg: fmt.Sprintf(format, args...)}
	}
	switch {
	case !closed:
		return bad(n, "a quote is never closed")
	case n > f.width:
		return bad(f.width+1, "found %d cells, expected %d", n, f.width)
	case len(cells) <= max(f.name, f.value):
		e := bad(len(cells)+1, "found %d cells, expected %d", len(cells), f.width)
		e.Hint = anotherTable(cells)
		return e
	}
	if _, ok := f.at(cells); !ok {
		j := f.times[0]
		if j < len(cells) && len(cells[j].text) == 0 {
			return bad(j+1, "found no time, expected one in every row")
		}
		return bad(j+1, "found %s, expected a time as in the rows before", quote(textOf(cells, j)))
	}
	if f.name >= 0 && len(cells[f.name].text) == 0 {
		return bad(f.name+1, "found no name, expected that of a channel")
	}
	text := cells[f.value].text
	if k := classify(cells[f.value], f.dec); k == cellBad || k == cellClock {
		if _, ok := polarity(text); !ok {
			return bad(f.value+1, "found %s, expected a number", quote(text))
		}
	}
	return nil
}

func textOf(cells []cell, j int) []byte {
	if j < len(cells) {
		return cells[j].text
	}
	return nil
}
