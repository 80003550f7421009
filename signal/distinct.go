package signal

import (
	"math"
	"slices"
)

// distinct collects different values of a column until there are too many
// to matter, to find the converter's step.
type distinct struct {
	table [2048]uint64
	n     int
	full  bool
	last  float64
}

const maxDistinct = 1024

// add looks at up to 4096 values, spread over all of v: a slow sweep visits
// its codes one after the other, and a step shows only between neighbours.
func (d *distinct) add(v []float64) {
	if d.full {
		return
	}
	stride := max(1, len(v)/4096)
	for i := 0; i < len(v); i += stride {
		x := v[i]
		if x == d.last || x != x {
			continue
		}
		d.last = x
		key := math.Float64bits(x) + 1 // 0 marks a free place
		h := key * 0x9E3779B97F4A7C15 >> 53
		for d.table[h] != 0 && d.table[h] != key {
			h = (h + 1) & 2047
		}
		if d.table[h] == 0 {
			d.table[h] = key
			if d.n++; d.n == maxDistinct {
				d.full = true
				return
			}
		}
	}
}

func (d *distinct) values() []float64 {
	var v []float64
	for _, k := range d.table {
		if k != 0 {
			v = append(v, math.Float64frombits(k-1))
		}
	}
	slices.Sort(v)
	return v
}

// quantumOf finds the step between sorted distinct values that explains their
// differences, or 0: a converter's step where its codes show, else the last
// printed digit.
func quantumOf(v []float64) float64 {
	if len(v) < 3 {
		return 0
	}
	d := make([]float64, 0, len(v)-1)
	span := v[len(v)-1] - v[0]
	for i := 1; i < len(v); i++ {
		// Differences within the rounding of the sums are no steps.
		if x := v[i] - v[i-1]; x > 1e-9*span {
			d = append(d, x)
		}
	}
	if len(d) < 2 {
		return 0
	}
	slices.Sort(d)
	grid := decimalGrid(v)
	// Neighbouring codes all visited: nearly all differences are one step,
	// give or take a printed digit.
	m := d[len(d)/2]
	sum, n := 0.0, 0
	for _, x := range d {
		if math.Abs(x-m) <= min(1.01*grid, 0.4*m)+0.02*m {
			sum += x
			n++
		}
	}
	if n*10 >= len(d)*9 {
		return sum / float64(n)
	}
	for _, q := range stepCandidates(d) {
		if q = refined(q, d); explains(q, d) {
			return q
		}
	}
	return 0
}

// stepCandidates gives possible steps, largest first: the smallest
// differences, and what they differ by among themselves, since codes may be
// skipped.
func stepCandidates(d []float64) []float64 {
	var c []float64
	for _, at := range []int{0, len(d) / 10, len(d) / 4} {
		c = append(c, d[at])
	}
	var dd []float64
	for i := 1; i < len(d); i++ {
		if x := d[i] - d[i-1]; x > 1e-3*d[0] {
			dd = append(dd, x)
		}
	}
	if len(dd) > 0 {
		slices.Sort(dd)
		c = append(c, dd[0], dd[len(dd)/4], dd[len(dd)/2])
	}
	slices.Sort(c)
	slices.Reverse(c)
	return c
}

// refined fits a step to the differences that are few multiples of it.
func refined(q float64, d []float64) float64 {
	for range 4 {
		sum, n := 0.0, 0.0
		for _, x := range d {
			if m := math.Round(x / q); m > 0 && m < 50 {
				sum += x
				n += m
			}
		}
		if n == 0 {
			break
		}
		q = sum / n
	}
	return q
}

// explains tells whether 19 of 20 differences are whole multiples of q within
// a tenth; of unrelated ones four in five would not be.
func explains(q float64, d []float64) bool {
	bad := 0
	for _, x := range d {
		if m := x / q; math.Abs(m-math.Round(m)) > 0.1 || m < 0.5 {
			bad++
		}
	}
	return bad*20 <= len(d)
}

// decimalGrid is the coarsest power of ten of which all values are multiples,
// or 0.
func decimalGrid(v []float64) float64 {
	for k := -3; k <= 9; k++ {
		f := math.Pow(10, float64(k))
		ok := true
		for _, x := range v {
			if y := x * f; math.Abs(y-math.Round(y)) > 1e-6*max(1, math.Abs(y)*1e-6) {
				ok = false
				break
			}
		}
		if ok {
			return 1 / f
		}
	}
	return 0
}
