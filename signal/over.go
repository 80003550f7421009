package signal

import (
	"bytes"
	"math"
)

// An overflow mark is a reading beyond the instrument's range, which a missing
// cell is not. It is carried as a NaN of its own, whose payload survives the
// way to float32, so that everything that leaves NaN out leaves it out too.
// A word such as OL does not tell over which end of the range it went; inf
// does, for what writes it writes -inf too.
const (
	overBits64 = 0x7FFC000000000000
	overBits32 = 0x7FE00000
	wordBit64  = 1 << 48 // the mark has no sign
	wordBit32  = 1 << 19
	signBit64  = 1 << 63
	signBit32  = 1 << 31
)

// overMark is the value of a cell that holds an overflow mark.
func overMark(t []byte) float64 {
	bits := uint64(overBits64)
	t = bytes.Trim(t, " <>()[]")
	switch c, rest := firstByte(t); {
	// One minus before a word is a sign, a row of them is a filler.
	case c == '-' && len(rest) > 0 && rest[0] != '-' && rest[0] != '.':
		bits |= signBit64
	case c == '+' || c >= '0' && c <= '9' && c != '0' || c == 'i' || c == 'I' || bytes.HasPrefix(t, []byte("∞")):
	default:
		bits |= wordBit64
	}
	return math.Float64frombits(bits)
}

func firstByte(t []byte) (byte, []byte) {
	if len(t) == 0 {
		return 0, nil
	}
	return t[0], t[1:]
}

func isOver64(x float64) bool {
	return math.Float64bits(x)&^(signBit64|wordBit64) == overBits64
}

// overSign is +1 or -1 for an overflow mark and 0 for anything else; told is
// false where the mark has no sign.
func overSign(x float32) (sign int, told bool) {
	switch math.Float32bits(x) {
	case overBits32:
		return 1, true
	case overBits32 | signBit32:
		return -1, true
	case overBits32 | wordBit32:
		return 1, false
	}
	return 0, false
}

// overVolts is the least that stands for a drive beyond the range, V: somewhat
// under a 12 V system's, which is what ranges are too small for.
const overVolts = 10

// fillOver puts volts where a drive channel went over its range: a motor's 12 V
// on a range of 10 V is driven, not missing. How many volts is not known; the
// largest reading is the least they can be. A lead against ground goes over
// only upwards. A signed drive whose marks have no sign may have gone over
// either way: it stays missing, and fillOver returns true.
func (c *channel) fillOver(lead bool, least float64) (unsigned bool) {
	if c.stats.Valid == 0 {
		return false
	}
	limit := math.Max(math.Max(math.Abs(c.stats.Min), math.Abs(c.stats.Max)), least)
	fill := func(v []float32) {
		for i, x := range v {
			switch s, told := overSign(x); {
			case s == 0:
			case lead || told:
				v[i] = float32(float64(s) * limit)
			default:
				unsigned = true
			}
		}
	}
	fill(c.mean)
	if c.min != nil {
		fill(c.min)
		fill(c.max)
	}
	return unsigned
}
