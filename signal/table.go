package signal

import (
	"bytes"
)

// A headLine is one line from the start of a file.
type headLine struct {
	text []byte
	off  int // byte offset of its start
}

// A table is the head of a file cut into cells by one dialect, with the block
// of data found in it.
type table struct {
	dialect
	lines []headLine
	cells [][]cell
	kinds [][]cellKind // nil for blank lines and remarks

	first, end int // the data block: lines[first:end]
	core       []bool
	decs       []byte // decimal mark of each column, nil where all have that of the dialect
	width      int    // cells per data row, trailing empty ones included
	narrow     int    // cells of the shortest regular row
	score      int
	long       *longForm // of the file that this table stands for, nil when it is the file's own
}

// maxColumns bounds the width of a table; wider is no capture.
const maxColumns = 1024

// headLines cuts the head into lines. A last line without line end counts
// only when the file ends there.
func headLines(head []byte, whole bool) []headLine {
	out := make([]headLine, 0, bytes.Count(head, []byte{'\n'})+1)
	for off := 0; off < len(head); {
		i := bytes.IndexByte(head[off:], '\n')
		if i < 0 {
			if whole || off == 0 {
				out = append(out, headLine{bytes.TrimRight(head[off:], "\r"), off})
			}
			break
		}
		out = append(out, headLine{bytes.TrimRight(head[off:off+i], "\r"), off})
		off += i + 1
	}
	joinQuoted(out)
	return out
}

// joinQuoted puts header cells that were broken over lines inside quotes back
// into one line, and leaves the other lines empty so that line numbers stay.
func joinQuoted(lines []headLine) {
	const most = 4
	odd := func(b []byte) bool { return bytes.Count(b, []byte{'"'})%2 == 1 }
	for i := range lines {
		if !odd(lines[i].text) {
			continue
		}
		for k := i + 1; k < len(lines) && k <= i+most; k++ {
			if !odd(lines[k].text) {
				continue
			}
			var all []byte
			for m := i; m <= k; m++ {
				all = append(all, lines[m].text...)
				all = append(all, ' ')
				lines[m].text = nil
			}
			lines[k].text = all // the last, so that it stands above the data
			break
		}
	}
}

// sampleLines is how many lines at the end of the head settle the dialect.
const sampleLines = 200

// bestTable finds the dialect that reads most cells of data from the last
// lines of the head, and reads the whole head in it.
func bestTable(lines []headLine) *table {
	sample := lines[max(0, len(lines)-sampleLines):]
	var best *table
	for _, d := range dialects {
		if d.delim != ' ' && d.delim != ',' && !anyByte(sample, d.delim) || d.dec == ',' && !anyByte(sample, ',') {
			continue
		}
		if d.delim == ' ' && best != nil && best.delim == '\t' && best.whole() {
			continue // a blank inside a cell, of a date and its time or of a name
		}
		if t := cut(sample, d); t != nil && (best == nil || t.score > best.score) {
			best = t
		}
	}
	if best == nil || len(sample) == len(lines) {
		return best
	}
	return cut(lines, best.dialect)
}

// whole tells whether every row of the data block has the same three or more
// cells, each of a reading, a stamp or nothing, or all of a column words.
func (t *table) whole() bool {
	if t.width < 3 || t.width != t.narrow {
		return false
	}
	for j := range t.width {
		words, values := false, false
		for i := t.first; i < t.end; i++ {
			if t.kinds[i] == nil {
				continue
			}
			switch k := t.kind(i, j); {
			case k == cellWord:
				words = true
			case valueLike(k):
				values = true
			case k != cellMissing && k != cellEmpty:
				return false
			}
		}
		if words && values {
			return false
		}
	}
	return true
}

func anyByte(lines []headLine, c byte) bool {
	for _, l := range lines {
		if bytes.IndexByte(l.text, c) >= 0 {
			return true
		}
	}
	return false
}

// cut splits the lines and finds the data block, or returns nil.
func cut(lines []headLine, d dialect) *table {
	t := &table{dialect: d, lines: lines, cells: make([][]cell, len(lines)), kinds: make([][]cellKind, len(lines))}
	cols := 0
	n := cellCount(lines, d.delim)
	arena, kinds := make([]cell, 0, n), make([]cellKind, 0, n)
	for i, l := range lines {
		if len(bytes.Trim(l.text, " \t\x00")) == 0 || isComment(l.text) {
			continue
		}
		n := len(arena)
		arena, _ = splitCells(l.text, d.delim, arena)
		t.cells[i] = arena[n:len(arena):len(arena)]
		if len(t.cells[i]) > maxColumns {
			t.cells[i] = t.cells[i][:maxColumns]
		}
		k := len(kinds)
		for _, c := range t.cells[i] {
			if d.delim == ',' && d.dec == ',' && !c.quoted && bytes.IndexByte(c.text, ',') >= 0 {
				kinds = append(kinds, cellBad)
				continue
			}
			kinds = append(kinds, classify(c, d.dec))
		}
		t.kinds[i] = kinds[k:len(kinds):len(kinds)]
		cols = max(cols, len(t.cells[i]))
	}
	if !t.findBlock(cols) {
		return nil
	}
	return t
}

// cellCount is how many cells the lines have, about; 0 where blanks part them, of which any
// number stand together.
func cellCount(lines []headLine, delim byte) int {
	if delim == ' ' {
		return 0
	}
	n := len(lines)
	for _, l := range lines {
		n += bytes.Count(l.text, []byte{delim})
	}
	return n
}

func (t *table) kind(i, j int) cellKind {
	if j < len(t.kinds[i]) {
		return t.kinds[i][j]
	}
	return cellEmpty
}

func (t *table) text(i, j int) []byte {
	if j < len(t.cells[i]) {
		return t.cells[i][j].text
	}
	return nil
}

// findBlock looks for the longest run of lines that hold values in one
// column, and takes from it what the other columns hold. What stands before
// the run is preamble and header, whatever it says.
func (t *table) findBlock(cols int) bool {
	runs := make([]valueRun, cols)
	line := 0
	for i := range t.lines {
		if t.kinds[i] == nil {
			continue
		}
		line++
		for j, k := range t.kinds[i][:min(cols, len(t.kinds[i]))] {
			runs[j].take(k, i, line)
		}
	}
	bestN, bestFirst, bestEnd := 0, 0, 0
	for j := range runs {
		if r := &runs[j]; r.keep(line) > bestN {
			bestN, bestFirst, bestEnd = r.bestN, r.bestFirst, r.bestEnd
		}
	}
	if bestN == 0 {
		return false
	}
	t.first, t.end = bestFirst, bestEnd
	t.findCore(cols)
	// A preamble line may end with a number in the anchor column: data begin
	// where no value column holds words any more.
	for t.first < t.end-1 && (t.kinds[t.first] == nil || t.isStatistics(t.first) || t.wordInCore(t.first)) {
		t.first++
	}
	t.findCore(cols)
	t.extendUp()
	t.measure()
	return true
}

// valueRun follows one column for its longest run of lines that hold values.
type valueRun struct {
	n, first, last int // of the run under way: values, and the lines of the first and the last; without a value n is 0
	before         int // lines that were there before the run
	spanned        int // lines of the run up to its last value

	bestN, bestFirst, bestEnd int
}

// take takes the cell of line i, the so-manieth that is not empty.
func (r *valueRun) take(k cellKind, i, line int) {
	switch {
	case valueLike(k):
		if r.n == 0 {
			r.before = line - 1
			if k == cellOver {
				return
			}
			r.first = i
		}
		r.n++
		r.last, r.spanned = i, line-r.before
	case k == cellWord || k == cellBad:
		r.keep(line)
	}
}

// keep ends the run at a line and gives the values of the longest so far. A column filled
// in fewer than half of the lines cannot carry the block.
func (r *valueRun) keep(line int) int {
	if r.n > r.bestN && 2*r.n >= r.spanned {
		r.bestN, r.bestFirst, r.bestEnd = r.n, r.first, r.last+1
	}
	r.n, r.before = 0, line
	return r.bestN
}

// extendUp takes in data above an interruption of a few lines of text, so that
// they are met and named in the reading instead of being lost as preamble.
func (t *table) extendUp() {
	const most, enough = 3, 5
	for {
		i, odd := t.first-1, 0
		for i >= 0 && odd <= most && !t.fits(i) {
			if t.kinds[i] != nil {
				odd++
			}
			i--
		}
		end := i
		for i >= 0 && (t.kinds[i] == nil || t.fits(i)) {
			i--
		}
		if odd > most || end-i < enough {
			return
		}
		for i++; t.kinds[i] == nil; i++ {
		}
		t.first = i
	}
}

// fits tells whether a line holds a value in every core column.
func (t *table) fits(i int) bool {
	if t.kinds[i] == nil {
		return false
	}
	for j, c := range t.core {
		if k := t.kind(i, j); c && !valueLike(k) && k != cellMissing {
			return false
		}
	}
	return true
}

func (t *table) wordInCore(i int) bool {
	words, values := 0, 0
	units := true // a row of units, in which 1 stands for none
	for j, c := range t.core {
		if !c {
			continue
		}
		switch k := t.kind(i, j); {
		case k == cellWord || k == cellBad:
			if name := utf8String(t.text(i, j)); words+values == 0 && (isTimeName(name) || isIndexName(name)) {
				return true // "Seconds,1,2,3": the numbers name channels
			}
			words++
			if _, ok := findUnit(utf8String(t.text(i, j))); !ok {
				units = false
			}
		case valueLike(k):
			values++
			units = units && string(t.text(i, j)) == "1"
		}
	}
	if units && words > 0 {
		return true
	}
	// One odd word among values is a mark of the instrument; the first core
	// column is time or index and must be a value.
	return words > 0 && (words >= values || values == 0)
}

// findCore marks the columns that hold values over the block. A column only
// sparsely filled counts when it is filled to the end, or here and there: that
// tells a slow channel, or one written when it changes, from a preamble standing
// beside the data.
func (t *table) findCore(cols int) {
	type filling struct{ values, filled, first, last int }
	of := make([]filling, cols)
	rows := 0
	for i := t.first; i < t.end; i++ {
		if t.kinds[i] == nil {
			continue
		}
		rows++
		for j, k := range t.kinds[i][:min(cols, len(t.kinds[i]))] {
			c := &of[j]
			if k != cellEmpty {
				c.filled++
			}
			if valueLike(k) {
				if c.values++; c.values == 1 {
					c.first = i
				}
				c.last = i
			}
		}
	}
	t.core = make([]bool, cols)
	for j, c := range of {
		here := c.values >= 4 && c.last-c.first > 10*c.values
		t.core[j] = c.values > 0 && 2*c.values >= c.filled && (2*c.values >= rows || c.last >= t.first+(t.end-t.first)*3/4 || here)
	}
}

// measure counts the width of the rows and scores the reading.
func (t *table) measure() {
	seen := map[int]int{}
	rows := 0
	for i := t.first; i < t.end; i++ {
		if t.kinds[i] == nil {
			continue
		}
		rows++
		t.width = max(t.width, min(len(t.cells[i]), maxColumns))
		seen[len(t.cells[i])]++
		for j, k := range t.kinds[i] {
			switch {
			case k == cellBad:
				t.score--
			case t.core[j] && k == cellGrouped:
				t.score++ // "1,234" is rather a decimal comma than a thousand
			case t.core[j] && valueLike(k):
				t.score += 2
			}
		}
	}
	t.narrow = t.width
	for n, c := range seen {
		if n < t.narrow && (c > 1 || rows <= 3) {
			t.narrow = n
		}
	}
	// A width seen once among many rows is a ragged row, not the shape.
	if rows >= 8 {
		w := 0
		for n, c := range seen {
			if c > max(1, rows/50) {
				w = max(w, n)
			}
		}
		if w > 0 {
			t.width = w
		}
		t.narrow = min(t.narrow, t.width)
	}
	if len(t.core) > t.width {
		t.core = t.core[:t.width]
	}
}
