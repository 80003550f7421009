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

// A channel is one column being reduced.
type channel struct {
	col            int
	mean, min, max []float32 // min and max are nil while every bin is a row
	stats          Stats
	seen           distinct

	sum    float64 // the open bin
	lo, hi float64
	n      int
}

// A reducer folds blocks of rows into bins.
type reducer struct {
	p     *plan
	chans []*channel
	time  []float64
	count []uint32 // rows per bin; nil while every bin is a row

	k       int // rows per bin
	target  int // rows per bin wanted at the end
	maxBins int // per channel
	open    int // rows in the open bin
	openT   float64
	openSum float64

	started   bool
	sign      float64 // -1 when the rows run backwards in time
	base      float64 // raw time taken as 0
	typical   float64 // row step of the first block, s
	quantum   float64 // smallest step between different stamps, s
	irregular bool
	repeated  bool // equal stamps are the rule

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
	gapCount        int64
	times           []float64 // scratch
	breaks          []int
	miss, over      []int64
	noTime          int64
	pending         *SyntaxError
	pendingRows     int
	pendingLine     int64
	pendingCut      bool
	words           []oddWord
	nudged          int64
	firstOut, lastT float64
}

func newReducer(p *plan, o *Options) *reducer {
	r := &reducer{p: p, k: 1, sign: 1, miss: make([]int64, len(p.cols)), over: make([]int64, len(p.cols)), line: int64(p.first)}
	for j, c := range p.cols {
		if (c.kind == numberCol || c.kind == wordCol) && !(p.time.mode == timeNumber && j == p.time.col) && !(p.time.fraction > 0 && j == p.time.fraction) {
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
	if err := r.foldRows(b); err != nil {
		return err
	}
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
	w.line += r.line + 1
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
	for _, c := range r.chans {
		c.seen.add(b.cols[c.col][:min(n, 2048)])
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

// addRows makes every row a bin.
func (r *reducer) addRows(b *block, s, e int) {
	r.time = append(r.time, r.times[s:e]...)
	for _, c := range r.chans {
		v := b.cols[c.col][s:e]
		c.range64(v)
		at := len(c.mean)
		c.mean = slices.Grow(c.mean, len(v))[:at+len(v)]
		dst := c.mean[at:]
		for i, x := range v {
			dst[i] = float32(x)
		}
	}
}

// range64 folds values into the statistics and returns what a bin needs.
func (c *channel) range64(v []float64) (sum, lo, hi float64, n int) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, x := range v {
		if x != x {
			continue
		}
		n++
		sum += x
		if x < lo {
			lo = x
		}
		if x > hi {
			hi = x
		}
	}
	st := &c.stats
	st.Valid += int64(n)
	if n == 0 {
		return
	}
	if lo <= st.Min {
		if lo < st.Min {
			st.Min, st.AtMin = lo, 0
		}
		for _, x := range v {
			if x == lo {
				st.AtMin++
			}
		}
	}
	if hi >= st.Max {
		if hi > st.Max {
			st.Max, st.AtMax = hi, 0
		}
		for _, x := range v {
			if x == hi {
				st.AtMax++
			}
		}
	}
	return
}

func (r *reducer) addToBin(b *block, s, e int) {
	if r.open == 0 {
		r.openT, r.openSum = r.times[s], 0
	}
	t := 0.0
	for _, x := range r.times[s:e] {
		t += x - r.openT
	}
	r.openSum += t
	r.open += e - s
	for _, c := range r.chans {
		sum, lo, hi, n := c.range64(b.cols[c.col][s:e])
		c.sum += sum
		c.n += n
		c.lo, c.hi = min(c.lo, lo), max(c.hi, hi)
	}
}

// closeBin ends the open bin.
func (r *reducer) closeBin() {
	if r.open == 0 {
		return
	}
	r.time = append(r.time, r.openT+r.openSum/float64(r.open))
	r.count = append(r.count, uint32(r.open))
	r.open = 0
	for _, c := range r.chans {
		m, lo, hi := c.sum/float64(c.n), c.lo, c.hi
		if c.n == 0 {
			m, lo, hi = math.NaN(), math.NaN(), math.NaN()
		}
		m32, lo32, hi32 := float32(m), float32(lo), float32(hi)
		m32 = max(lo32, min(hi32, m32)) // rounding must not put the mean outside
		c.mean, c.min, c.max = append(c.mean, m32), append(c.min, lo32), append(c.max, hi32)
		c.sum, c.n, c.lo, c.hi = 0, 0, math.Inf(1), math.Inf(-1)
	}
	if len(r.time) >= r.maxBins {
		r.halve()
	}
}

// halve merges bins in pairs until at least a quarter of the room is free.
func (r *reducer) halve() {
	for tries := 0; len(r.time) > r.maxBins*3/4; tries++ {
		r.mergePairs(tries > 60)
	}
}

// mergePairs doubles the bin width in place. Bins either side of a gap wider
// than a bin stay apart.
func (r *reducer) mergePairs(force bool) {
	if r.count == nil {
		r.count = make([]uint32, len(r.time), cap(r.time))
		for i := range r.count {
			r.count[i] = 1
		}
		for _, c := range r.chans {
			c.min, c.max = slices.Clone(c.mean), slices.Clone(c.mean)
		}
	}
	width := float64(r.k) * r.typical
	w := 0
	for i := 0; i < len(r.time); w++ {
		if i+1 < len(r.time) && int(r.count[i])+int(r.count[i+1]) <= 2*r.k &&
			(force || r.time[i+1]-r.time[i] <= width+float64(r.count[i]+r.count[i+1])/2*r.typical) {
			a, b := float64(r.count[i]), float64(r.count[i+1])
			r.time[w] = r.time[i] + (r.time[i+1]-r.time[i])*b/(a+b)
			r.count[w] = r.count[i] + r.count[i+1]
			for _, c := range r.chans {
				c.merge(w, i, float32(a/(a+b)), float32(b/(a+b)))
			}
			i += 2
			continue
		}
		r.time[w], r.count[w] = r.time[i], r.count[i]
		for _, c := range r.chans {
			c.mean[w], c.min[w], c.max[w] = c.mean[i], c.min[i], c.max[i]
		}
		i++
	}
	r.time, r.count = r.time[:w], r.count[:w]
	for _, c := range r.chans {
		c.mean, c.min, c.max = c.mean[:w], c.min[:w], c.max[:w]
	}
	r.k *= 2
}

// merge puts bins i and i+1 into w, weighted by their rows.
func (c *channel) merge(w, i int, a, b float32) {
	x, y := c.mean[i], c.mean[i+1]
	switch {
	case x != x:
		c.mean[w], c.min[w], c.max[w] = y, c.min[i+1], c.max[i+1]
	case y != y:
		c.mean[w], c.min[w], c.max[w] = x, c.min[i], c.max[i]
	default:
		lo, hi := min(c.min[i], c.min[i+1]), max(c.max[i], c.max[i+1])
		c.mean[w] = max(lo, min(hi, x*a+y*b))
		c.min[w], c.max[w] = lo, hi
	}
}

// finish closes the last bin and reduces to the target rate.
func (r *reducer) finish() error {
	if r.pending != nil {
		if err := r.tail(); err != nil {
			return err
		}
	}
	r.closeBin()
	for r.k < r.target && len(r.time) >= 2*fewBins {
		before := len(r.time)
		r.mergePairs(false)
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

// firstBlock learns the step from the first rows.
func (r *reducer) firstBlock(raw []float64, whole bool) {
	t := &r.p.time
	s := shapeOf(raw)
	if s.down {
		r.sign = -1
	}
	d := make([]float64, 0, len(raw))
	same := 0
	for i := 1; i < len(raw); i++ {
		switch x := math.Abs(raw[i] - raw[i-1]); {
		case x > 0:
			d = append(d, x)
		case x == 0:
			same++
		}
	}
	if len(d) == 0 {
		return
	}
	slices.Sort(d)
	median := d[len(d)/2]
	r.quantum = d[0]
	if 10*same > len(raw) {
		r.repeated = true
		r.typical = repeatedStep(raw)
		r.quantum = median
	}
	if r.typical == 0 {
		r.typical = median
	}
	if !r.repeated {
		over := 0
		for _, x := range d {
			if x > gapFactor*median {
				over++
			}
		}
		// Where one step in twenty is long, long steps are the nature of the
		// file (a list of events), not gaps.
		r.irregular = len(d) > 10 && over*20 > len(d)
		r.typical = refineStep(raw, median, t.resolution/max(t.scale, math.SmallestNonzeroFloat64))
	}
	r.typical *= t.scale
	r.quantum *= t.scale
	r.tol = 0.02*r.typical + 1.5*t.resolution
	if r.repeated {
		r.tol = 1.5*max(r.quantum, t.resolution) + 0.02*r.typical
	}
	if r.irregular { // a list of events: its rate is the average one
		median, n := r.typical, float64(len(raw)-1)
		r.typical = math.Abs(raw[len(raw)-1]-raw[0]) * t.scale / n
		r.chooseWidth(len(raw), whole)
		r.typical = median
		return
	}
	r.chooseWidth(len(raw), whole)
}

// chooseWidth sets the rows per bin from the row rate. A rate far above the
// target starts with narrower bins, merged at the end when enough of them
// came.
func (r *reducer) chooseWidth(rows int, whole bool) {
	if r.typical <= 0 || 1/r.typical <= rowsAsBins*1.01 { // steps are rounded
		r.target = 1
		return
	}
	k := math.Round(1 / (binRate * r.typical))
	if k > 1<<30 {
		k = 1 << 30
	}
	if whole { // all rows are known
		k = min(k, float64(rows/fewBins))
	}
	r.k = max(1, int(k))
	for r.k > 16 {
		r.k = (r.k + 1) / 2
		r.target++
	}
	r.target = r.k << r.target
}

// repeatedStep is the slope of stamps that repeat by rounding, between the
// first change and the last.
func repeatedStep(raw []float64) float64 {
	a, b := -1, -1
	for i := 1; i < len(raw); i++ {
		if raw[i] != raw[i-1] {
			if a < 0 {
				a = i
			}
			b = i
		}
	}
	if a < 0 {
		return 0
	}
	if b == a { // a single change: the longer run tells how many rows share a stamp
		return math.Abs(raw[a]-raw[a-1]) / float64(max(a, len(raw)-a))
	}
	return math.Abs(raw[b]-raw[a]) / float64(b-a)
}

// refineStep averages the steps near the median, which a coarse last digit
// makes jitter.
func refineStep(raw []float64, median, resolution float64) float64 {
	sum, n := 0.0, 0
	for i := 1; i < len(raw); i++ {
		x := math.Abs(raw[i] - raw[i-1])
		if math.Abs(x-median) <= 0.02*median+1.5*resolution && x > 0 {
			sum += x
			n++
		}
	}
	if n == 0 {
		return median
	}
	m := sum / float64(n)
	if math.Abs(m-median) < 1e-9*median {
		return median
	}
	return m
}

// backwards is the error for time that goes back within a file.
func (r *reducer) backwards(b *block, row int, from, to float64) error {
	line := r.line + int64(b.lineOf(row)) + 1
	from, to = r.base+r.sign*from/r.p.time.scale, r.base+r.sign*to/r.p.time.scale
	return &SyntaxError{File: r.p.file, Line: line, Column: r.p.time.col + 1,
		Msg:  fmt.Sprintf("time runs backwards, from %.9g to %.9g", from, to),
		Hint: "split the file here, or name the right time column with --time"}
}
