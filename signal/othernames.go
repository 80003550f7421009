package signal

import (
	"bytes"
	"strings"
)

// noteOtherNames tells of a second row of names above the one that was taken: the one right
// above the data holds. Where the two give the columns to other channels, one of them is
// wrong, and which is not to be seen in the file.
func (p *plan) noteOtherNames() {
	i := p.head.names - 1
	for i >= 0 && len(bytes.TrimSpace(p.lines[i].text)) == 0 {
		i--
	}
	if i < 0 {
		return
	}
	cells := p.headCells(i)
	if p.isUnitsRow(cells) || !p.isNamesRow(cells, i, false) {
		return
	}
	upper, lower := make([]string, p.width), make([]string, p.width)
	fillCells(upper, cells)
	fillCells(lower, p.headCells(p.head.names))
	known, named, differ := 0, 0, false
	for j := range upper {
		above, below := channelNamed(upper[j]), channelNamed(lower[j])
		if above != "" {
			known++
		}
		if below != "" {
			named++
		}
		differ = differ || above != "" && below != "" && above != below
	}
	if known < 2 || named < 2 { // a title, or the second row goes on where the first ends
		return
	}
	switch {
	case differ:
		p.doubt("names-differ", "lines %d and %d both name the columns, and not alike: those of line %d, right above the data, were taken; which is right, the file does not tell", i+1, p.head.names+1, p.head.names+1)
	case !strings.EqualFold(strings.Join(upper, ","), strings.Join(lower, ",")):
		p.note("names-twice", "lines %d and %d both name the columns: those of line %d, right above the data, were taken", i+1, p.head.names+1, p.head.names+1)
	}
}

// channelNamed is the channel that a name stands for, "" for none.
func channelNamed(s string) string {
	name, _, _, _ := splitUnit(s)
	if isTimeName(s) || isTimeName(name) {
		return "time"
	}
	if r, w := headerRole(s); w != "" || r != Unused {
		return r.String()
	}
	return ""
}
