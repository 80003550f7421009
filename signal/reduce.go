package signal

import (
	"fmt"
	"math"
	"slices"
)

const (
	// rowsAsBins is the row rate in Hz up to which every row stays a bin of
	// its own. The mechanics of an actuator live below about 100 Hz.
	rowsAsBins = 2000
	// binRate is the rate in Hz to which faster data are reduced: ten times
	// the mechanics, while a pulsed drive (20 kHz) becomes its local mean.
	binRate = 1000
	// fewBins: a capture is not reduced below this many bins, so that a
	// microsecond shot of a scope keeps its shape.
	fewBins = 2000
	// gapFactor is how many typical steps make a gap.
	gapFactor = 3
	// maxGaps bounds the list of gaps; beyond, they are only counted.
	maxGaps = 10_000
)

// RowsInBin is how many rows of a long capture become one bin at a rate in Hz.
func RowsInBin(rate float64) float64 {
	if rate <= rowsAsBins*1.01 { // steps are rounded
		return 1
	}
	return math.Min(math.Round(rate/binRate), 1<<30)
}

// A channel is one column being reduced.
type channel struct {
	col            int
	mean, min, max []float32 // min and max are nil while every bin is a row
	stats          Stats
	seen           distinct

	sum    float64 // the open bin
	lo, hi float64
	n      int
	over   int     // overflow marks in the open bin
	mark   float64 // the last of them
}

// A reducer folds blocks of rows into bins.
type reducer struct {
	p     *plan
	chans []*channel
	time  []float64
	count []uint32 // rows per bin; nil while every bin is a row

	k       int        // rows per bin
	target  int        // rows per bin wanted at the end
	maxBins int        // per channel
	shapes  []rowShape // of the last lines
	open    int        // rows in the open bin
	openT   float64
	openSum float64

	started   bool
	sign      float64 // -1 when the rows run backwards in time
	base      float64 // raw time taken as 0
	shift     float64 // s added to the stamps since the clock began anew
	typical   float64 // row step of the first block, s
	quantum   float64 // smallest step between different stamps, s
	irregular bool
	repeated  bool    // equal stamps are the rule
	bounded   bool    // the first block had one stamp: typical is the most that the step can be
	ticks     [2]tick // of bounded times: the first and the last
	onChange  bool    // a row comes only when something changes
	clustered bool    // rows come in clusters, with pauses between them

	rows            int64
	line            int64 // lines before the current block
	prevRaw         float64
	prevOut         float64
	run             float64
	tol             float64
	odd             int64   // steps that disagree with the typical one
	steps           int64   // steps that are no gaps
	stepSum         float64 // their sum
	gaps            []Span
	gapCount        int64 // pauses in which rows are missing
	firstGap        Span
	times           []float64 // scratch
	timed           []int     // rows of the block that have a time, nil when all have
	breaks          []int
	anew            []Restart // where the clock began anew
	miss, over      []int64
	noTime          int64
	pending         *SyntaxError
	pendingRows     int
	pendingLine     int64
	pendingCut      bool
	torn            tornRows
	words           []oddWord
	between         betweenLine
	heads, headLine int64 // lines above the data that came again, and where first
	twice           writtenTwice
	remarks         []placedRemark
	remarkRuns      []remarkRun // by column; the last is for lines between the rows
	remarkRows      []int64     // rows with text, likewise
	remarkMore      int64       // remarks that were not kept
	codes           []errorCode
	nudged, behind  int64
	firstOut, lastT float64
	passed          float64 // sum of the times between rows
}

func newReducer(p *plan, o *Options) *reducer {
	r := &reducer{p: p, k: 1, sign: 1, miss: make([]int64, len(p.cols)), over: make([]int64, len(p.cols)), line: int64(p.first)}
	for j, c := range p.cols {
		own := slices.ContainsFunc(p.own, func(t ownTime) bool { return t.col == j })
		if (c.kind == numberCol || c.kind == wordCol || own) && !(p.time.mode == timeNumber && j == p.time.col) && !(p.time.fraction > 0 && j == p.time.fraction) {
			r.chans = append(r.chans, &channel{col: j, lo: math.Inf(1), hi: math.Inf(-1), stats: Stats{Min: math.Inf(1), Max: math.Inf(-1)}, seen: distinct{last: math.NaN()}})
		}
	}
	most := o.MaxBins
	if most <= 0 {
		most = defaultMaxBins
	}
	// Below 256 bins per channel nothing could be analysed, whatever the
	// bound.
	r.maxBins = max(256, most/max(1, len(r.chans)))
	return r
}

// fold takes the next block in order.
func (r *reducer) fold(b *block) error {
	if r.pending != nil && (b.rows > 0 || b.dataLate) {
		return r.pending
	}
	b.endsTorn()
	r.rememberShapes(b)
	if b.last && b.cut {
		r.dropCutRow(b)
	}
	before := r.rows
	if err := r.foldRows(b); err != nil {
		return err
	}
	r.foldRemarks(b, before)
	if b.bad != nil && r.pending == nil {
		e := *b.bad
		e.File = r.p.file
		e.Line += r.line + 1
		if b.dataLate {
			return &e
		}
		r.pending = &e
	}
	if b.badRows > 0 {
		r.pendingRows += b.badRows
		r.pendingLine = r.line + int64(b.badLast) + 1
		r.pendingCut = b.cut && b.badLast == b.lines-1
	}
	r.foldBetween(b)
	r.foldTorn(b)
	if b.heads > 0 {
		if r.heads == 0 {
			r.headLine = r.line + int64(b.headLine) + 1
		}
		r.heads += int64(b.heads)
	}
	for _, w := range b.words {
		r.word(w)
	}
	for j := range b.miss {
		r.miss[j] += b.miss[j]
		r.over[j] += b.over[j]
	}
	r.line += int64(b.lines)
	return nil
}

func (r *reducer) word(w oddWord) {
	w.line = r.p.long.sourceLine(w.line + r.line + 1)
	for i := range r.words {
		if r.words[i].col == w.col {
			r.words[i].n += w.n
			return
		}
	}
	r.words = append(r.words, w)
}

// foldRows takes the rows of a block.
func (r *reducer) foldRows(b *block) error {
	if b.rows == 0 {
		return nil
	}
	if err := r.rowTimes(b); err != nil {
		return err
	}
	n := len(r.times)
	if n == 0 {
		return nil
	}
	r.ownTimes(b)
	for _, c := range r.chans {
		r.dropCodes(b.cols[c.col][:n], c)
		c.seen.add(b.cols[c.col][:n])
	}
	s := 0
	for s < n {
		e := n
		if len(r.breaks) > 0 {
			if r.breaks[0] == s {
				r.closeBin()
				r.breaks = r.breaks[1:]
				continue
			}
			e = r.breaks[0]
		}
		if r.k == 1 {
			e = min(e, s+r.maxBins-len(r.time))
			if e <= s {
				r.halve()
				continue
			}
			r.addRows(b, s, e)
		} else {
			e = min(e, s+r.k-r.open)
			r.addToBin(b, s, e)
			if r.open == r.k {
				r.closeBin()
			}
		}
		s = e
	}
	r.rows += int64(n)
	return nil
}

// tick is a row with which a clock that repeats its stamps moved on.
type tick struct {
	row int64
	at  float64 // s
}

// finish closes the last bin and reduces to the target rate.
func (r *reducer) finish() error {
	if r.pending != nil {
		if err := r.tail(); err != nil {
			return err
		}
	}
	if err := r.tooTorn(); err != nil {
		return err
	}
	r.closeBin()
	r.dropCopies()
	for r.k < r.target && len(r.time) >= 2*fewBins {
		before := len(r.time)
		r.mergePairs(1, false)
		r.k *= 2
		if len(r.time) == before {
			break
		}
	}
	return nil
}

// tail says what became of rows at the end that could not be read.
func (r *reducer) tail() error {
	// A few lines of text behind the data are a footer; more of them are
	// data that were not understood.
	if int64(r.pendingRows) > max(20, r.rows/100) {
		return r.pending
	}
	if r.pendingRows == 1 {
		r.p.note("cut-line", "the last line (%d) is not a whole row (%s) and is left out", r.pending.Line, r.pending.Msg)
		return nil
	}
	r.p.note("footer", "%d lines from line %d on are no data and are left out (%s)", r.pendingRows, r.pending.Line, r.pending.Msg)
	return nil
}

// backwards is the error for time that goes back within a file.
func (r *reducer) backwards(b *block, row int, from, to float64) *SyntaxError {
	line := r.line + int64(b.lineOf(r.rowOf(row))) + 1
	from, to = r.base+r.sign*(from-r.shift)/r.p.time.scale, r.base+r.sign*(to-r.shift)/r.p.time.scale
	e := &SyntaxError{File: r.p.file, Line: r.p.long.sourceLine(line), Column: r.p.time.col + 1,
		Msg:  fmt.Sprintf("time runs backwards, from %.9g to %.9g", from, to),
		Hint: "split the file here, or name the right time column with --time"}
	if r.sign < 0 {
		e.Msg = fmt.Sprintf("time falls in the rows above and rises here, from %.9g to %.9g", from, to)
	}
	if f := r.p.long; f != nil && r.p.time.col < len(f.times) {
		e.Column, e.Hint = f.times[r.p.time.col]+1, "sort the rows by time, or split the file here"
	}
	return e
}
