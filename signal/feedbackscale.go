package signal

import "math"

// FullCounts is the full scale of the least usual converter that reaches a count: of 8,
// 10, 12, 14 or 16 bits, else of as many as it takes.
func FullCounts(top float64) float64 {
	bits := 8
	for ; bits < 16 && top > math.Exp2(float64(bits)); bits += 2 {
	}
	for ; bits < 32 && top > math.Exp2(float64(bits)); bits++ {
	}
	return math.Exp2(float64(bits)) - 1
}

// leastWhole is the lowest full scale, in V, for which a factor makes volts of counts: the
// lowest reference that converters for sensors come with (common practice, no source).
const leastWhole = 2

// toldUnit is the unit of counts to which the user gave the factor f, told by what it makes
// of a whole converter: percent where that is 100 of them, volts where it is what a channel
// for a 12 V network takes, and of the converters that hold the readings the smallest for
// which it makes either. Of what else it makes nobody knows, as of a share or a sign alone.
func toldUnit(st *Stats, f float64) string {
	const rounded = 0.01 // off a whole of 1 or 100: one count of 8 bits, or a rounded factor
	size := math.Abs(f)
	for whole := FullCounts(math.Max(-st.Min, st.Max) / size); whole < math.Exp2(16); whole = 4*whole + 3 {
		switch x := whole * size; {
		case math.Abs(x-1) < rounded:
			return "counts"
		case math.Abs(x/100-1) < rounded:
			return "%"
		case x >= leastWhole && x <= rawCountsMax:
			return "V"
		}
	}
	return "counts"
}
