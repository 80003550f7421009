package signal

import (
	"cmp"
	"slices"
)

// A placedRemark is a remark by the row of the file, counted as rows are kept.
type placedRemark struct {
	writtenRemark
	row, line int64
}

// foldRemarks takes the remarks of a block whose rows are kept from row number first on. A
// remark in a row that was left out goes to the row that follows.
func (r *reducer) foldRemarks(b *block, first int64) {
	if r.remarkRows == nil {
		r.remarkRows, r.remarkRuns = make([]int64, len(b.remarks.filled)), make([]remarkRun, len(b.remarks.filled))
	}
	for j, n := range b.remarks.filled {
		r.remarkRows[j] += n
	}
	r.remarkMore += b.remarks.more
	placed := func(row int) int64 {
		if r.timed != nil && b.rows > 0 {
			row, _ = slices.BinarySearch(r.timed, row)
		}
		return first + min(int64(row), r.rows-first)
	}
	for _, w := range b.remarks.kept {
		row := placed(w.row)
		if u := r.remarkRuns[w.col]; u.text == w.text && row <= u.last+1 {
			continue // it goes on from the block before
		}
		if len(r.remarks) >= mostRemarks {
			r.remarkMore++
			continue
		}
		r.remarks = append(r.remarks, placedRemark{w, row, r.line + int64(w.line) + 1})
	}
	for j, u := range b.remarks.runs {
		if u.text != "" {
			r.remarkRuns[j] = remarkRun{u.text, placed(int(u.last))}
		}
	}
}

// remarksInTime are the remarks in the order of time, with the times of their bins. Text in
// nearly every row is no remark, nor are codes in a column that may hold such.
func (r *reducer) remarksInTime() []Remark {
	var out []Remark
	kept := r.remarks
	for j := range r.p.cols {
		if !r.remarkColumn(j) {
			kept = slices.DeleteFunc(kept, func(w placedRemark) bool { return w.col == j })
		}
	}
	if r.repeatedLines() {
		kept = slices.DeleteFunc(kept, func(w placedRemark) bool { return w.col == len(r.p.cols) })
	}
	if len(kept) == 0 {
		return nil
	}
	at := r.binsOfRows()
	for _, w := range kept {
		if w.col == len(r.p.cols) && w.row >= r.rows {
			continue // no row follows: it is no remark on any
		}
		out = append(out, Remark{Time: r.time[at(w.row)], Line: w.line, Text: w.text})
	}
	slices.SortStableFunc(out, func(a, b Remark) int { return cmp.Compare(a.Time, b.Time) })
	if r.remarkMore > 0 {
		r.p.note("more-remarks", "the file holds more remarks than are told: the first %d are kept, %d more are left out", len(r.remarks), r.remarkMore)
	}
	return out
}

// remarkColumn tells whether the text of column j was remarks, now that all of it is read.
func (r *reducer) remarkColumn(j int) bool {
	if !r.p.cols[j].remarks || len(r.remarkRows) <= j {
		return false
	}
	if r.remarkRows[j] >= fewTexts && 10*r.remarkRows[j] >= nearlyAll*r.rows {
		return false
	}
	n, sentences := 0, 0
	for _, w := range r.remarks {
		if w.col != j {
			continue
		}
		n++
		if isSentence(w.text) {
			sentences++
		}
	}
	_, must := remarksIn(r.p.cols[j].name)
	return n > 0 && (!must || 2*sentences > n)
}

// repeatedLines tells lines between the rows that a program wrote: the same words again and
// again, with other numbers.
func (r *reducer) repeatedLines() bool {
	const few = 4 // somebody may say a thing again
	n, seen := 0, map[string]bool{}
	for _, w := range r.remarks {
		if w.col == len(r.p.cols) {
			n++
			seen[withoutNumbers([]byte(w.text))] = true
		}
	}
	return n > few && 2*len(seen) < n
}

// binsOfRows gives the bin of a row that was kept.
func (r *reducer) binsOfRows() func(row int64) int {
	last := len(r.time) - 1
	if r.count == nil {
		return func(row int64) int {
			if r.sign < 0 {
				row = r.rows - 1 - row
			}
			return int(max(0, min(row, int64(last))))
		}
	}
	ends := make([]int64, len(r.count)) // rows up to the end of each bin
	sum := int64(0)
	for i, c := range r.count {
		sum += int64(c)
		ends[i] = sum
	}
	return func(row int64) int {
		if r.sign < 0 {
			row = sum - 1 - row
		}
		i, _ := slices.BinarySearch(ends, row+1)
		return max(0, min(i, last))
	}
}
