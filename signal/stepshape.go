package signal

import (
	"math"
	"slices"
)

// A stepShape is what the differences of a column in the head look like.
type stepShape struct {
	n          int
	monotone   bool // never against the main direction
	down       bool
	median     float64 // of the non-zero differences, absolute
	uniform    bool    // differences agree within half the median, gaps apart
	repeats    bool    // many equal neighbours
	integer    bool
	first      float64
	unitStep   bool // integers that count by one
	tooFew     bool
	largestAbs float64
	wanders    bool // goes up and down all the time, as no clock does
}

func shapeOf(v []float64) stepShape {
	s := stepShape{integer: true, monotone: true}
	d := make([]float64, 0, len(v))
	prev := math.NaN()
	up, down, same := 0, 0, 0
	s.first = math.NaN()
	for _, x := range v {
		if math.IsNaN(x) {
			continue
		}
		if math.IsNaN(s.first) {
			s.first = x
		}
		s.n++
		s.largestAbs = max(s.largestAbs, math.Abs(x))
		if x != math.Trunc(x) {
			s.integer = false
		}
		if !math.IsNaN(prev) {
			switch {
			case x > prev:
				up++
				d = append(d, x-prev)
			case x < prev:
				down++
				d = append(d, prev-x)
			default:
				same++
			}
		}
		prev = x
	}
	s.down = down > up
	s.monotone = up == 0 && down > 0 || down == 0 && up > 0
	s.wanders = 10*min(up, down) > s.n // a clock that starts anew goes back now and then
	s.repeats = 10*same > s.n
	s.tooFew = s.n < 3
	if len(d) == 0 {
		return s
	}
	slices.Sort(d)
	s.median = d[len(d)/2]
	near, ones := 0, 0
	for _, x := range d {
		if math.Abs(x-s.median) <= 0.5*s.median {
			near++
		}
		if x == 1 {
			ones++
		}
	}
	// A column that rose once or twice in many rows tells no pace: a sign that
	// went from -1 over 0 to 1 does the same.
	s.uniform = near*10 >= len(d)*9 && (same == 0 || len(d) > 2)
	s.unitStep = s.integer && s.monotone && same == 0 && ones*20 >= len(d)*19
	return s
}
