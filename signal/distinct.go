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

func (d *distinct) add(v []float64) {
	if d.full {
		return
	}
	for _, x := range v {
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

// quantumOf finds the smallest step that explains the differences between
// sorted distinct values as whole multiples, or 0. A printed last digit
// coarser than the converter's step is itself such a step.
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
	slices.Sort(d)
	if len(d) < 2 {
		return 0
	}
	for _, at := range []int{0, len(d) / 10, len(d) / 4} {
		q := d[at]
		for range 4 { // refine with all differences
			sum, n := 0.0, 0.0
			for _, x := range d {
				m := math.Round(x / q)
				if m > 0 && m < 50 {
					sum += x
					n += m
				}
			}
			if n == 0 {
				break
			}
			q = sum / n
		}
		bad := 0
		for _, x := range d {
			// A uniform remainder would put three in five outside this.
			if m := x / q; math.Abs(m-math.Round(m)) > 0.2 {
				bad++
			}
		}
		if bad*20 <= len(d) {
			return q
		}
	}
	return 0
}
