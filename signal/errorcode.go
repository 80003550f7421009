package signal

import (
	"math"
	"strconv"
	"strings"
)

// An errorCode is a number that a logger writes where it has no reading, such as -9999.
// It stands so far outside the rest of its column that it can be no reading.
type errorCode struct {
	col   int
	value float64
	rows  int64
}

// farOut is how many times the reach of all other values a code lies beyond them.
const farOut = 2

// dropCodes empties the cells of a block that hold codes.
func (r *reducer) dropCodes(v []float64, c *channel) {
	for range 4 { // a column has few codes
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, x := range v {
			if x < lo {
				lo = x
			}
			if x > hi {
				hi = x
			}
		}
		if !r.dropCode(v, c, lo, hi) && !r.dropCode(v, c, hi, lo) {
			return
		}
	}
}

// dropCode empties the cells that hold the value at one end of the block, if it is a
// code; other is the value at the other end.
func (r *reducer) dropCode(v []float64, c *channel, end, other float64) bool {
	known := r.code(c.col, end)
	if known == nil && !looksLikeCode(end, r.p.cols[c.col].unit.q, other) {
		return false
	}
	n := int64(0)
	reach := math.Max(math.Max(-c.stats.Min, c.stats.Max), 0)
	for _, x := range v {
		switch {
		case x == end:
			n++
		case x == x:
			reach = math.Max(reach, math.Abs(x))
		}
	}
	if known == nil {
		// Nothing to compare with, or not far enough from it.
		if reach == 0 && n == int64(len(v)) || math.Abs(end) < (1+farOut)*reach || n < 2 && len(codeDigits(end)) < 4 {
			return false
		}
		r.codes = append(r.codes, errorCode{col: c.col, value: end})
		known = &r.codes[len(r.codes)-1]
	}
	known.rows += n
	r.miss[c.col] += n
	for i, x := range v {
		if x == end {
			v[i] = math.NaN()
		}
	}
	return true
}

func (r *reducer) code(col int, x float64) *errorCode {
	for i := range r.codes {
		if r.codes[i].col == col && r.codes[i].value == x {
			return &r.codes[i]
		}
	}
	return nil
}

// looksLikeCode tells whether a value is one of those that stand for no reading: nines
// all through, or the last number of a word of 16 or 32 bits. In a column of whole
// numbers the latter is a converter at its end, which a wiper off its ground reads.
func looksLikeCode(x float64, q quantity, other float64) bool {
	if !(math.Abs(x) >= 60) || math.Abs(x) > 1e10 {
		return false
	}
	d := codeDigits(x)
	switch d {
	case "65535", "32767", "32768", "2147483647", "2147483648", "4294967295":
		return q == volts || q == amperes || other != math.Trunc(other)
	}
	return len(d) >= 3 && strings.Trim(d, "9") == ""
}

// codeDigits are the digits of a number as it was written, without sign, point and the
// noughts at its ends.
func codeDigits(x float64) string {
	s := strconv.FormatFloat(math.Abs(x), 'f', -1, 64)
	return strings.Trim(strings.ReplaceAll(s, ".", ""), "0")
}

// noteCodes says which numbers were read as missing.
func (r *reducer) noteCodes() {
	for _, c := range r.codes {
		r.p.note("error-code", "%s: %s, far outside all other values, stands in %s: a code for no reading, read as missing",
			r.p.columnName(c.col), strconv.FormatFloat(c.value, 'f', -1, 64), plural(c.rows, "row", "rows"))
	}
}
