package signal

import (
	"bytes"
)

// A dialect is how cells are written: the delimiter (' ' for runs of blanks)
// and the decimal mark.
type dialect struct {
	delim, dec byte
}

var delimNames = map[byte]string{',': "comma", ';': "semicolon", '\t': "tab", '|': "bar", ' ': "spaces"}

// dialects in order of preference when two read a file equally well.
var dialects = []dialect{
	{',', '.'}, {';', '.'}, {';', ','}, {'\t', '.'}, {'\t', ','}, {'|', '.'}, {'|', ','}, {' ', '.'}, {' ', ','}, {',', ','},
}

// A cell is one trimmed field of a line, without its quotes.
type cell struct {
	text   []byte
	quoted bool
}

// splitCells cuts a line into cells, appending to dst. ok is false when a
// quote is never closed.
func splitCells(line []byte, delim byte, dst []cell) (cells []cell, ok bool) {
	if delim == ' ' {
		return splitBlanks(line, dst), true
	}
	ok = true
	i, before := 0, len(dst)
	for {
		for i < len(line) && (line[i] == ' ' || line[i] == '\t' && delim != '\t') {
			i++
		}
		if i < len(line) && line[i] == '"' {
			text, next, closed := quotedCell(line, i)
			ok = ok && closed
			// What follows a closing quote up to the delimiter belongs to the
			// cell only if it is not blank.
			j := bytes.IndexByte(line[next:], delim)
			if j < 0 {
				j = len(line) - next
			}
			if rest := bytes.TrimSpace(line[next : next+j]); len(rest) > 0 {
				text = append(append([]byte{}, text...), rest...)
			}
			dst = append(dst, cell{bytes.TrimSpace(text), true})
			i = next + j
		} else {
			j := bytes.IndexByte(line[i:], delim)
			if j < 0 {
				j = len(line) - i
			}
			text := line[i : i+j]
			i += j
			if len(dst) == before {
				if stamp, sent, ok := cutStamp(text); ok {
					dst, text = append(dst, cell{stamp, false}), sent
				}
			}
			dst = append(dst, cell{bytes.TrimSpace(text), false})
		}
		if i >= len(line) {
			return dst, ok
		}
		i++ // the delimiter
	}
}

// cutStamp parts the stamp that a terminal puts before what was sent to it,
// "12:30:05.250 -> 4.1". Any other arrow is text of its cell.
func cutStamp(text []byte) (stamp, sent []byte, ok bool) {
	stamp, sent, ok = bytes.Cut(text, []byte("->"))
	if !ok {
		return nil, nil, false
	}
	stamp = bytes.TrimSpace(stamp)
	_, ok = readClock(stamp)
	return stamp, sent, ok
}

// quotedCell reads a cell in double quotes starting at line[i].
func quotedCell(line []byte, i int) (text []byte, next int, closed bool) {
	i++
	start := i
	for i < len(line) {
		if line[i] != '"' {
			i++
			continue
		}
		if i+1 < len(line) && line[i+1] == '"' {
			i += 2
			continue
		}
		text = line[start:i]
		if bytes.Contains(text, []byte(`""`)) {
			text = bytes.ReplaceAll(text, []byte(`""`), []byte(`"`))
		}
		return text, i + 1, true
	}
	return line[start:], len(line), false
}

func splitBlanks(line []byte, dst []cell) []cell {
	i := 0
	for {
		for i < len(line) && (line[i] == ' ' || line[i] == '\t') {
			i++
		}
		if i >= len(line) {
			return dst
		}
		if line[i] == '"' {
			text, next, _ := quotedCell(line, i)
			dst = append(dst, cell{bytes.TrimSpace(text), true})
			i = next
			continue
		}
		j := i
		for j < len(line) && line[j] != ' ' && line[j] != '\t' {
			j++
		}
		dst = append(dst, cell{line[i:j], false})
		i = j
	}
}

// trimTail drops empty cells at the end.
func trimTail(c []cell) []cell {
	for len(c) > 0 && len(c[len(c)-1].text) == 0 {
		c = c[:len(c)-1]
	}
	return c
}

// isComment tells lines that are remarks in any dialect.
func isComment(line []byte) bool {
	t := bytes.TrimLeft(line, " \t")
	if len(t) == 0 {
		return false
	}
	switch t[0] {
	case '#':
		return len(t) == 1 || t[1] != '#' || len(bytes.Trim(t, "#")) > 0 && !bytes.HasPrefix(t, []byte("####,"))
	case '%', '!':
		return true
	case '/':
		return len(t) > 1 && (t[1] == '/' || t[1] == '*')
	}
	return false
}

// stripComment takes the remark sign off.
func stripComment(line []byte) []byte {
	return bytes.TrimLeft(line, "#%!/* \t")
}

// classify tells what the text of a cell is.
func classify(c cell, dec byte) cellKind {
	if len(c.text) == 0 {
		return cellEmpty
	}
	_, k := readCell(c.text, dec)
	if k == cellWord || k == cellBad {
		if _, ok := readClock(c.text); ok {
			return cellClock
		}
	}
	return k
}

// valueLike tells cells that belong to a table of readings.
func valueLike(k cellKind) bool {
	return k == cellNumber || k == cellQuantity || k == cellGrouped || k == cellClock || k == cellOver
}
