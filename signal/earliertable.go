package signal

// An earlierTable is a run of rows of numbers that stands above the data and is not read
// with them.
type earlierTable struct {
	from, to int // lines, counted from 1
	rows     int
	next     int // line behind it, where the file can be split
}

// earlierTable finds such a run: as many rows as a part of a file has at least
// ([fewestOfPart]), of two or more columns, in whatever shape. No preamble of an instrument
// is that; another capture put before this one is, or rows that were written in another
// shape before something was changed. It returns nil without one.
func (t *table) earlierTable() *earlierTable {
	if t.first < fewestOfPart {
		return nil
	}
	early := bestTable(t.lines[:t.first])
	if early == nil {
		return nil
	}
	columns := 0
	for _, c := range early.core {
		if c {
			columns++
		}
	}
	e := &earlierTable{from: early.first + 1}
	for i := early.first; i < early.end; i++ {
		if early.fits(i) {
			e.rows++
			e.to = i + 1
		}
	}
	e.next = e.to + 1
	if columns < 2 || e.rows < fewestOfPart {
		return nil
	}
	return e
}

// noteEarlier tells of rows above the data that were left out.
func (p *plan) noteEarlier(e *earlierTable) {
	if e != nil {
		p.doubt("earlier-table", "lines %d to %d hold %d rows of numbers too, in another shape than those below, and were left out: are these two captures in one file? Split it in line %d and check each part", e.from, e.to, e.rows, e.next)
	}
}
