package signal

// A logger whose buffer is flushed to the file a second time writes its last rows
// twice: the times go back, and the rows come again, cell for cell, up to the newest
// one; then the file goes on. Such rows tell nothing new and are left out. Where a
// cell differs they are other rows, and the time runs backwards. Without times of its
// own a row written twice cannot be told from a reading that stayed.

const (
	// twiceRows is how many of the last rows are kept to compare with: a buffer of
	// 64 kB, with rows of 16 bytes or more. A longer block is not known again.
	twiceRows = 4096
	// twiceCells bounds what is kept of a file with many columns, to 2 MB.
	twiceCells = 1 << 18
)

// A writtenTwice knows the rows of a block that a logger wrote twice. Rows are counted
// as they are kept, from 0.
type writtenTwice struct {
	cols [][]float64 // rings of the last rows: their times, then the channels
	n    int         // rows kept so far
	next int         // row that comes again next, where a block of text ended in between; else 0
	anew int         // row from which the times rise: the first one, or where a log was started anew

	from, to int64 // lines of the first such block
	blocks   int64
}

// dropTwice takes out of the rows with a time those that were written twice.
func (r *reducer) dropTwice(b *block, raw []float64) []float64 {
	t := &r.twice
	if t.cols == nil {
		rows := max(2, min(twiceRows, twiceCells/(1+len(r.chans))))
		for range 1 + len(r.chans) {
			t.cols = append(t.cols, make([]float64, rows))
		}
	}
	kept, known := 0, 0 // rows of this block, and those of them in the rings
	for i := 0; i < len(raw); {
		m := 0
		switch {
		case t.next > 0:
			m = t.repeats(r, b, raw, i)
		case kept > 0 && (raw[i]-raw[kept-1])*r.sign < 0, kept == 0 && t.n > 0 && (raw[i]-t.newest())*r.sign < 0:
			t.remember(r, b, raw, known, kept)
			known = kept
			if m = t.begins(r, b, raw, i); m == 0 {
				t.anew = t.n
			}
		}
		if m > 0 {
			r.leaveOutTwice(b, i, m, len(raw))
			i += m
			continue
		}
		if kept < i {
			r.moveRow(b, raw, kept, i)
		}
		kept++
		i++
	}
	t.remember(r, b, raw, known, kept)
	if kept < len(raw) {
		r.timed = r.timed[:kept]
	}
	return raw[:kept]
}

func (t *writtenTwice) newest() float64 { return t.cols[0][(t.n-1)%len(t.cols[0])] }

// remember puts rows from i up to, not including, e into the rings.
func (t *writtenTwice) remember(r *reducer, b *block, raw []float64, i, e int) {
	size := len(t.cols[0])
	for k := range t.cols {
		v := raw
		if k > 0 {
			v = b.cols[r.chans[k-1].col]
		}
		at := t.n + e - i
		for s := e; s > max(i, e-size); { // from the newest backwards, in two pieces at most
			to := (at-1)%size + 1
			m := min(to, s-max(i, e-size))
			copy(t.cols[k][to-m:to], v[s-m:s])
			s, at = s-m, at-m
		}
	}
	t.n += e - i
}

// begins tells how many rows from row i on, whose time lies before the newest, are rows
// written twice; 0 where none are.
func (t *writtenTwice) begins(r *reducer, b *block, raw []float64, i int) int {
	for p := t.n - 1; p >= max(t.anew, t.n-len(t.cols[0])); p-- {
		switch x := t.cols[0][p%len(t.cols[0])]; {
		case (x-raw[i])*r.sign < 0:
			return 0
		case x != raw[i]:
			continue
		}
		t.next = p
		m := t.repeats(r, b, raw, i)
		// A log that is started anew begins with the first row too, and may go on
		// like the first one for long: these are its rows unless they then go on in time.
		if p == t.anew && m > 0 && (t.next > 0 || i+m == len(raw) || (raw[i+m]-t.newest())*r.sign < 0) {
			m = 0
		}
		if m > 0 {
			t.blocks++
			return m
		}
		t.next = 0
	}
	return 0
}

// repeats counts the rows from row i on that are the rows from next on again. They are
// none where they differ before the newest row or the end of the block of text came.
func (t *writtenTwice) repeats(r *reducer, b *block, raw []float64, i int) int {
	m := min(t.n-t.next, len(raw)-i)
	size := len(t.cols[0])
	for k := range t.cols {
		v := raw
		if k > 0 {
			v = b.cols[r.chans[k-1].col]
		}
		for j := range m {
			x, y := t.cols[k][(t.next+j)%size], v[i+j]
			if x != y && (x == x || y == y) {
				t.next = 0
				return 0
			}
		}
	}
	t.next += m
	if t.next == t.n {
		t.next = 0
	}
	return m
}

// leaveOutTwice takes m rows from row i on, of n with a time, out of the counts.
func (r *reducer) leaveOutTwice(b *block, i, m, n int) {
	t := &r.twice
	if r.timed == nil {
		for k := range n {
			r.timed = append(r.timed, k)
		}
	}
	if t.blocks == 1 {
		if t.from == 0 {
			t.from = r.line + int64(b.lineOf(r.timed[i])) + 1
		}
		t.to = r.line + int64(b.lineOf(r.timed[i+m-1])) + 1
	}
	for _, c := range r.chans {
		for _, x := range b.cols[c.col][i : i+m] {
			if x != x {
				r.miss[c.col]--
			}
			if isOver64(x) {
				r.over[c.col]--
			}
		}
	}
}

// moveRow brings row i to the place of row w before it.
func (r *reducer) moveRow(b *block, raw []float64, w, i int) {
	raw[w], r.timed[w] = raw[i], r.timed[i]
	for _, c := range r.chans {
		b.cols[c.col][w] = b.cols[c.col][i]
	}
}
