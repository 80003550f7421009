package signal

import (
	"bytes"
	"fmt"
	"strings"
)

var (
	// pageWords number the sheets that one table was printed on.
	pageWords = wordSet("page|seite|pagina|página|strona|sida|side|blad|sheet|blatt")
	// shotWords number the recordings or pieces of one that stand one below the other.
	shotWords = wordSet("frame|segment|record|block|sweep|trigger|part|event|burst|shot|run|recording|acquisition|capture|measurement|session|section|messung|aufnahme|abschnitt|teil|enregistrement|mesure|medición|grabación|registrazione|misura|pomiar")
	// startWords head the lines that tell when such a piece was taken, and how long it is.
	startWords = wordSet("start|started|begin|time|date|end|stop|samples|points|count|rows|length|duration|zeit|uhrzeit|datum|beginn|ende|heure|début|fecha|hora|data|ora")
)

// A betweenLine is a line between the rows that holds no reading.
type betweenLine struct {
	line int64
	text string
	n    int64
}

// isBetween tells a line between the rows that can be left out: a remark, a page number,
// or where the rows have times the heading of the next piece of the recording, that of the
// first one with other numbers. "Channel 2" is no such heading: other readings follow.
func (q *parser) isBetween(line []byte) bool {
	if q.isRemark(line) {
		return true
	}
	if q.p.time.mode == timeCount {
		// How much time lies before the next piece is not known.
		return numbered(strings.Fields(normal(utf8String(line))), pageWords)
	}
	return isPiece(line) || q.isHeading(line)
}

// isPiece tells a line that numbers a page or a piece of the recording.
func isPiece(line []byte) bool {
	words := strings.Fields(normal(utf8String(line)))
	return numbered(words, pageWords) || numbered(words, shotWords)
}

// isRemark tells a line that begins with a sign for a remark that may as well begin a
// cell, by the text behind it.
func (q *parser) isRemark(line []byte) bool {
	for _, sign := range []string{";", "*", "'", "--", "REM "} {
		rest, ok := bytes.CutPrefix(line, []byte(sign))
		if rest = bytes.TrimSpace(rest); ok && sign[0] != q.p.delim && len(rest) > 0 && (rest[0]|0x20 >= 'a' && rest[0]|0x20 <= 'z' || rest[0] >= 0x80) {
			return true
		}
	}
	return false
}

// numbered tells "page 2" and "segment 2 of 3".
func numbered(words []string, kinds map[string]bool) bool {
	isNumber := func(s string) bool { return strings.Trim(s, "0123456789") == "" }
	switch len(words) {
	case 2:
		return kinds[words[0]] && isNumber(words[1])
	case 3: // "page 2/3"
		return kinds[words[0]] && isNumber(words[1]) && isNumber(words[2])
	case 4:
		return kinds[words[0]] && isNumber(words[1]) && anyOf(words[2], "of", "von", "de", "di", "z", "av", "van") && isNumber(words[3])
	}
	return false
}

// isHeading tells a line that is one of those above the names but for its numbers, and
// that speaks of a piece of the recording or its time.
func (q *parser) isHeading(line []byte) bool {
	for w := range strings.FieldsSeq(normal(utf8String(line))) {
		if shotWords[w] || startWords[w] {
			return q.headings[withoutNumbers(line)]
		}
	}
	return false
}

// withoutNumbers is a line with one mark for each number.
func withoutNumbers(line []byte) string {
	var out []byte
	for _, c := range line {
		if c-'0' > 9 {
			out = append(out, c)
		} else if n := len(out); n == 0 || out[n-1] != '0' {
			out = append(out, '0')
		}
	}
	return string(out)
}

// headingsOf keeps the lines above the data, names and units aside: those must come again
// as they are.
func headingsOf(p *plan) map[string]bool {
	const most = 60
	h := map[string]bool{}
	for i := max(0, p.first-most); i < p.first; i++ {
		if text := bytes.TrimSpace(p.lines[i].text); i != p.head.names && i != p.head.units && len(text) > 0 {
			h[withoutNumbers(text)] = true
		}
	}
	return h
}

// leaveOut takes a line that could not be read for one between the rows, and the error for
// it back.
func (b *block) leaveOut(line []byte, bad *SyntaxError, rows, last int) {
	b.bad, b.badRows, b.badLast = bad, rows, last
	b.skips = append(b.skips, int32(b.rows))
	if b.between.n == 0 {
		b.between = betweenLine{line: int64(b.lines), text: quote(line)}
	}
	b.between.n++
}

// noteBetween says what was left out between the rows.
func (r *reducer) noteBetween() {
	if n := r.between.n; n > 0 {
		r.p.note("lines-between", "%s between the rows and left out, first %s in line %d", plural(n, "line of text stands", "lines of text stand"), r.between.text, r.between.line)
	}
}

// foldBetween keeps the lines that a block left out.
func (r *reducer) foldBetween(b *block) {
	if r.between.n == 0 {
		r.between = b.between
		r.between.line += r.line + 1
		return
	}
	r.between.n += b.between.n
}

// anotherTable is what to do where a line of words, shorter than a row, follows the rows.
func anotherTable(cells []cell) string {
	for _, c := range cells {
		if len(c.text) > 0 && (c.text[0]-'0' <= 9 || c.text[0] == '-') {
			return ""
		}
	}
	return fmt.Sprintf("where another recording or table begins at %s, split the file there; else take the line out", quote(cells[0].text))
}
