package signal

import (
	"bytes"
	"slices"
	"strings"
	"unicode"
)

// A Remark is what somebody wrote beside the readings while they were taken: "door held
// by hand". It stands in a column of its own, or in a line of text between the rows.
type Remark struct {
	Time float64 // s, of the row that it stands in, or of the one that follows
	Line int64   // of the file
	Text string  // as it was written, without control characters, cut at 120 characters
}

const (
	// mostRemarks is how many remarks of a file are kept: more are a log of something else.
	mostRemarks = 200
	// longestRemark is the most that is kept of one, in characters: two lines of a screen.
	longestRemark = 120
	// fewTexts is how many cells with text do not tell yet what a column holds.
	fewTexts = 20
	// nearlyAll is the share of rows, in tenths, from which on text in a column is what the
	// actuator or the logger is at, and not what somebody had to say.
	nearlyAll = 9
)

// remarkWords head a column of remarks.
var remarkWords = wordSet("comment|comments|remark|remarks|note|notes|annotation|annotations|marker|markers|memo|bemerkung|bemerkungen|kommentar|kommentare|notiz|notizen|anmerkung|anmerkungen|hinweis|commentaire|commentaires|remarque|remarques|comentario|comentarios|observaciones|nota|notas|commento|commenti|osservazioni|opmerking|opmerkingen|anmärkning|komentarz|uwaga|uwagi")

// eventWords head a column that holds remarks, or the codes of states.
var eventWords = wordSet("event|events|ereignis|ereignisse|événement|evento|eventos|marker|markers")

// remarksIn tells whether a column of that name is one of remarks, and whether its cells
// must read as sentences to be taken for such.
func remarksIn(name string) (remarks, ifSentences bool) {
	for w := range strings.FieldsSeq(normal(name)) {
		remarks = remarks || remarkWords[w] || eventWords[w]
		ifSentences = ifSentences || eventWords[w]
	}
	return remarks, ifSentences
}

func namesRemarks(name string) bool {
	named, _ := remarksIn(name)
	return named
}

// holdsRemarks tells whether column j is one of remarks: by its name, nothing else is read
// from it, and where the head of the file has text in it, few rows do.
func (p *plan) holdsRemarks(j int) bool {
	if !namesRemarks(p.cols[j].name) || p.cols[j].kind != skipCol || p.long != nil {
		return false
	}
	rows, filled := 0, 0
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] == nil {
			continue
		}
		rows++
		if len(p.text(i, j)) > 0 {
			filled++
		}
	}
	return filled < fewTexts || 10*filled < nearlyAll*rows
}

// remarkBeyond takes in a column of remarks that most rows end before: who types a remark
// into a file puts it behind the last cell, and other rows have no delimiter there.
func (t *table) remarkBeyond(h *header) {
	if h.names < 0 || t.long != nil || t.delim == ' ' {
		return
	}
	cells := trimTail(t.headCells(h.names))
	if len(cells) != t.width+1 || t.width >= maxColumns {
		return
	}
	name := utf8String(cells[t.width].text)
	if !namesRemarks(name) {
		return
	}
	h.name, h.unit = append(h.name, name), append(h.unit, "")
	t.core = append(t.core, false)
	t.narrow = min(t.narrow, t.width)
	t.width++
}

// A writtenRemark is a remark as it stands in a block.
type writtenRemark struct {
	col  int // width of the table: a line between the rows
	row  int // of the block, before which or in which it stands
	line int
	text string
}

// A remarkRun is the last text of a column and how far it goes.
type remarkRun struct {
	text string
	last int64 // row
}

// goesOn tells whether a text only repeats that of the row before, and remembers it.
func (u *remarkRun) goesOn(text string, row int64) bool {
	same := u.text == text && row <= u.last+1
	u.text, u.last = text, row
	return same
}

// remarks are the remarks of a block; its slices go by column, the last of each is for lines
// between the rows.
type remarks struct {
	kept   []writtenRemark
	runs   []remarkRun
	filled []int64 // rows with text
	more   int64   // that were not kept
}

func (m *remarks) reset(width int) {
	m.kept, m.more = m.kept[:0], 0
	if m.filled == nil {
		m.filled, m.runs = make([]int64, width+1), make([]remarkRun, width+1)
	}
	clear(m.filled)
	clear(m.runs)
}

// add keeps the text of a cell or a line; where it stands in the next row too, once.
func (m *remarks) add(col, row, line int, raw []byte) {
	text := cleanRemark(raw)
	if text == "" {
		return
	}
	m.filled[col]++
	if m.runs[col].goesOn(text, int64(row)) {
		return
	}
	if len(m.kept) >= mostRemarks {
		m.more++
		return
	}
	m.kept = append(m.kept, writtenRemark{col, row, line, text})
}

// cleanRemark is a remark without what a terminal would obey, with single blanks; "" where
// it says nothing: a number, a tick, a code of one letter.
func cleanRemark(raw []byte) string {
	letters := 0
	s := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r):
			letters++
		case unicode.IsControl(r) || unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.Cf, r) || r == unicode.ReplacementChar:
			return -1
		}
		return r
	}, utf8String(raw))
	if letters < 2 {
		return ""
	}
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > longestRemark {
		s = strings.TrimSpace(string(r[:longestRemark-1])) + "…"
	}
	return s
}

// isSentence tells a text of two words or more from a code.
func isSentence(text string) bool {
	words := 0
	for w := range strings.FieldsSeq(text) {
		if strings.ContainsFunc(w, unicode.IsLetter) {
			words++
		}
	}
	return words >= 2
}

// remarksOf keeps the remarks of a row that was read.
func (q *parser) remarksOf(b *block, cells []cell) {
	for _, j := range q.remarks {
		if j >= len(cells) {
			continue
		}
		text := cells[j].text
		if len(cells) > q.width { // see ownDelimiters
			text = joined(cells[j:], q.p.delim)
		}
		b.remarks.add(j, b.rows, b.lines, text)
	}
}

// ownDelimiters tells whether a row has too many cells because the remark at its end holds
// the delimiter: "arm off, held by hand".
func (q *parser) ownDelimiters(cells []cell) bool {
	j := q.width - 1
	if !slices.Contains(q.remarks, j) || len(cells) <= j {
		return false
	}
	r := []rune(utf8String(cells[j].text))
	return len(r) > 0 && unicode.IsLetter(r[0])
}

// joined is the text of cells with the delimiter between them.
func joined(cells []cell, delim byte) []byte {
	var parts [][]byte
	for _, c := range trimTail(cells) {
		parts = append(parts, c.text)
	}
	return bytes.Join(parts, []byte{delim, ' '})
}

// lineRemark keeps a line of text between the rows that says something: neither a piece or
// page of the recording, nor a setting with its value, nor what stands above the data.
func (q *parser) lineRemark(b *block, line []byte) {
	t := bytes.TrimSpace(line)
	if q.p.long != nil || isPiece(stripComment(t)) || q.headings[withoutNumbers(t)] {
		return
	}
	t = bytes.TrimLeft(stripComment(t), ";*'- ")
	t = bytes.TrimPrefix(t, []byte("REM "))
	if !isSentence(utf8String(t)) {
		return
	}
	if k := bytes.IndexAny(t, "=:"); k >= 0 && bytes.ContainsAny(t[k:], "0123456789") {
		return
	}
	b.remarks.add(q.width, b.rows, b.lines, t)
}
