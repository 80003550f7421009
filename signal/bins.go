package signal

import (
	"math"
	"slices"
)

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
		if n < e-s && r.over[c.col]+b.over[c.col] > 0 {
			for _, x := range b.cols[c.col][s:e] {
				if isOver64(x) {
					c.over++
					c.mark = x
				}
			}
		}
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
		if c.over > c.n { // a pulsed drive is over its range in every other row
			m = c.mark
			lo, hi = m, m
		} else if c.n == 0 {
			m, lo, hi = math.NaN(), math.NaN(), math.NaN()
		}
		m32, lo32, hi32 := float32(m), float32(lo), float32(hi)
		if m == m { // NaN keeps what it means
			m32 = max(lo32, min(hi32, m32)) // rounding must not put the mean outside
		}
		c.mean, c.min, c.max = append(c.mean, m32), append(c.min, lo32), append(c.max, hi32)
		c.sum, c.n, c.lo, c.hi, c.over = 0, 0, math.Inf(1), math.Inf(-1), 0
	}
	if len(r.time) >= r.maxBins {
		r.halve()
	}
}

// halve doubles the rows of a bin and merges bins in pairs until at least a quarter of
// the room is free. Where gaps keep too many apart, wider and wider ones are merged over,
// in the end all: of full bins two thirds are left then.
func (r *reducer) halve() {
	for reach := 1.0; len(r.time) > r.maxBins*3/4; reach *= 2 {
		all := reach > widestReach
		r.mergePairs(reach, all)
		if all {
			break
		}
	}
	r.k *= 2
}

// widestReach is how many times its own width a bin reaches over a gap before all gaps are
// merged over: beyond 2^60 no step of a file differs from another in a float64.
const widestReach = 1 << 60

// mergePairs merges bins in place whose rows are no more than two full ones'. Bins either
// side of a gap wider than reach bins stay apart unless all is set.
func (r *reducer) mergePairs(reach float64, all bool) {
	if r.count == nil {
		r.count = make([]uint32, len(r.time), cap(r.time))
		for i := range r.count {
			r.count[i] = 1
		}
		for _, c := range r.chans {
			c.min, c.max = slices.Clone(c.mean), slices.Clone(c.mean)
		}
	}
	width := reach * float64(r.k) * r.typical
	w := 0
	for i := 0; i < len(r.time); w++ {
		if i+1 < len(r.time) && int(r.count[i])+int(r.count[i+1]) <= 2*r.k &&
			(all || r.time[i+1]-r.time[i] <= width+float64(r.count[i]+r.count[i+1])/2*r.typical) {
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
