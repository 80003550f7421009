package signal

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// rowShape is how a line of the table is made: its cells, and the length of the last
// one. A file that was cut in the middle of a row ends without a line end, and its last
// line has less of one than the lines before, though it may still be numbers.
type rowShape struct {
	cells, last int
	text        string // of the last cell
}

// places is the number of digits behind the point or comma; 0 without any.
func (x rowShape) places() int {
	i := strings.LastIndexAny(x.text, ".,")
	if i < 0 {
		return 0
	}
	n := 0
	for _, c := range x.text[i+1:] {
		if c < '0' || c > '9' {
			break // an exponent, or a unit
		}
		n++
	}
	return n
}

// neighbours is the number of lines before the last that it is compared with, and
// fewNeighbours the least that tell anything.
const (
	neighbours    = 16
	fewNeighbours = 4
)

// rememberShapes keeps the shapes of the last lines so far.
func (r *reducer) rememberShapes(b *block) {
	var own []rowShape
	for e := b.n; e > 0 && len(own) <= neighbours; {
		e-- // the line end
		s := bytes.LastIndexByte(b.buf[:e], '\n') + 1
		if line := bytes.TrimSpace(b.buf[s:e]); len(line) > 0 {
			cells, _ := splitCells(line, r.p.delim, nil)
			if cells = trimTail(cells); len(cells) > 0 {
				last := cells[len(cells)-1].text
				own = append(own, rowShape{len(cells), len(last), string(last[:min(len(last), 40)])})
			}
		}
		e = s
	}
	slices.Reverse(own)
	r.shapes = append(r.shapes, own...)
	r.shapes = r.shapes[max(0, len(r.shapes)-neighbours-1):]
}

// dropCutRow leaves out a last row that breaks off within a cell, or before one that
// all lines before it have, and says so.
func (r *reducer) dropCutRow(b *block) {
	end := bytes.TrimSpace(b.buf[max(0, bytes.LastIndexByte(b.buf[:b.n-1], '\n')+1) : b.n-1])
	isRow := len(end) > 0 && bytes.IndexByte(end, 0) < 0 && !isComment(end) && b.rows > 0 && (b.badRows == 0 || b.badLast != b.lines-1)
	before := r.shapes[:max(0, len(r.shapes)-1)]
	if !isRow || len(before) < fewNeighbours {
		return
	}
	x := r.shapes[len(r.shapes)-1]
	least, fixed := before[0], true
	for _, y := range before {
		least.cells, least.last = min(least.cells, y.cells), min(least.last, y.last)
		fixed = fixed && y.places() == before[0].places()
	}
	// Places that do not change are missed at once. Where they do, or where there are
	// none, one sign less is what any number may have.
	short := x.last < least.last-1
	if fixed && least.places() > 0 {
		short = x.places() < least.places()
	}
	why := ""
	switch y := before[len(before)-1]; {
	case x.cells < least.cells:
		why = fmt.Sprintf("%d cells, where the lines before have %d", x.cells, least.cells)
	case x.cells == least.cells && short:
		why = "in " + quote([]byte(x.text)) + ", after " + quote([]byte(y.text)) + " in the line before"
	default:
		return
	}
	b.rows--
	r.p.note("cut-line", "the file ends in the middle of its last line (%d), without a line end (%s): that row is left out; was the recording or a copy of the file cut short?", r.line+int64(b.lines), why)
}
