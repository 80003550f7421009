package stats

// finite reports whether no value of x is NaN or infinite.
func finite(x []float64) bool {
	for _, v := range x {
		// v-v is NaN for NaN and both infinities, and zero for the rest.
		if v-v != 0 {
			return false
		}
	}
	return true
}

func mustMatch(a, b int) {
	if a != b {
		panic("stats: slice length mismatch")
	}
}

// mustFraction panics unless 0 < v < 1.
func mustFraction(v float64, what string) {
	if !(v > 0 && v < 1) {
		panic("stats: " + what + " outside (0, 1)")
	}
}

// useDst returns a slice of length n: dst itself, or a new one when dst is nil.
func useDst(dst []float64, n int) []float64 {
	if dst == nil {
		return make([]float64, n)
	}
	if len(dst) != n {
		panic("stats: dst length mismatch")
	}
	return dst
}

func fill(dst []float64, v float64) []float64 {
	for i := range dst {
		dst[i] = v
	}
	return dst
}
