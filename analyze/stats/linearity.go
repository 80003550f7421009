package stats

import "math"

// IndependentLinearity is the least that all y can be off one straight line: half the
// width of the narrowest band, measured along y, that holds all points. It is the
// measure of that name for potentiometers, a minimax line and not one of least
// squares; divide by the volts across the track for the share that it is given as.
// It is NaN for fewer than two points.
func IndependentLinearity(x, y []float64) float64 {
	if len(x) < 2 || len(x) != len(y) {
		return math.NaN()
	}
	width := func(slope float64) float64 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for i := range x {
			r := y[i] - slope*x[i]
			lo, hi = math.Min(lo, r), math.Max(hi, r)
		}
		return hi - lo
	}
	// The width is convex in the slope: the largest of straight lines in it.
	lo, hi := steepestChord(x, y)
	for range 100 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if width(a) < width(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return width((lo+hi)/2) / 2
}

// steepestChord bounds the slopes of all lines through two of the points that are next
// to one another in order of x; no line that lies best is steeper.
func steepestChord(x, y []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := 1; i < len(x); i++ {
		if dx := x[i] - x[i-1]; dx != 0 {
			s := (y[i] - y[i-1]) / dx
			lo, hi = math.Min(lo, s), math.Max(hi, s)
		}
	}
	if lo > hi {
		return 0, 0
	}
	return lo, hi
}
