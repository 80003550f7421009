package signal

import (
	"math"
	"slices"
)

// firstBlock learns the step from the first rows.
func (r *reducer) firstBlock(raw []float64, whole bool) {
	t := &r.p.time
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
		r.oneStamp(len(raw), whole)
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

// oneStamp takes a first block of which all rows have the same time for rows of a clock
// that tells no less than its last printed digit: they are closer together than that, by
// how much shows only when the clock moves on.
func (r *reducer) oneStamp(rows int, whole bool) {
	t := &r.p.time
	if whole || rows < fewestOfPart || !(t.resolution > 0) {
		return
	}
	r.repeated, r.bounded = true, true
	r.quantum = t.resolution
	r.typical = r.quantum / float64(rows)
	r.tol = 1.5 * r.quantum
	r.chooseWidth(rows, whole)
}

// chooseWidth sets the rows per bin from the row rate. A rate far above the
// target starts with narrower bins, merged at the end when enough of them
// came.
func (r *reducer) chooseWidth(rows int, whole bool) {
	if r.typical <= 0 || RowsInBin(1/r.typical) == 1 {
		r.target = 1
		return
	}
	k := RowsInBin(1 / r.typical)
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
