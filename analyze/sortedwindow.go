package analyze

// medianSmall is the median of a short window; the input is not changed.
func medianSmall(x []float64) float64 {
	var buf [64]float64
	if len(x) > len(buf) {
		x = x[(len(x)-len(buf))/2:][:len(buf)]
	}
	b := buf[:copy(buf[:], x)]
	for i := 1; i < len(b); i++ {
		for j := i; j > 0 && b[j] < b[j-1]; j-- {
			b[j], b[j-1] = b[j-1], b[j]
		}
	}
	return b[len(b)/2]
}

// sortedWindow is a short window that moves forward along a series, so that
// the median at the next place costs a step and not a sort. The zero value is
// empty.
type sortedWindow struct {
	a, b int // of the series
	n    int
	x    [64]float64
}

// median is that of v[a:b], or of its middle where that is too long.
func (s *sortedWindow) median(v []float64, a, b int) float64 {
	if over := b - a - len(s.x); over > 0 {
		a += over / 2
		b = a + len(s.x)
	}
	if a < s.a || b < s.b || a >= s.b {
		s.a, s.b, s.n = a, a, 0
	}
	for s.a < a && s.b < b && v[s.a] == v[s.b] {
		s.a, s.b = s.a+1, s.b+1 // one like it comes for the one that goes
	}
	for ; s.a < a; s.a++ {
		i := s.at(v[s.a])
		copy(s.x[i:], s.x[i+1:s.n])
		s.n--
	}
	for ; s.b < b; s.b++ {
		i := s.at(v[s.b])
		copy(s.x[i+1:s.n+1], s.x[i:s.n])
		s.x[i] = v[s.b]
		s.n++
	}
	return s.x[s.n/2]
}

// at is where v stands in the window, or would.
func (s *sortedWindow) at(v float64) int {
	lo, hi := 0, s.n
	for lo < hi {
		if m := (lo + hi) / 2; s.x[m] < v {
			lo = m + 1
		} else {
			hi = m
		}
	}
	return lo
}
