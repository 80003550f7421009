package stats

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Line is the least squares line y = Slope*x + Intercept.
type Line struct {
	Slope, Intercept float64
	Residual         float64 // standard deviation of y about the line, n - 2 degrees of freedom
	Spread           float64 // root of the sum of squared distances of x from its mean
	N                int
}

// FitLine fits y on x by least squares. Fewer than three points, equal x, NaN
// or infinity give ok false. It panics if the lengths differ.
func FitLine(x, y []float64) (l Line, ok bool) {
	mustMatch(len(x), len(y))
	n := len(x)
	if n < 3 || !finite(x) || !finite(y) {
		return Line{}, false
	}
	mean := stat.Mean(x, nil)
	ssx := 0.0
	for _, v := range x {
		ssx += (v - mean) * (v - mean)
	}
	if ssx == 0 {
		return Line{}, false
	}
	l = Line{N: n, Spread: math.Sqrt(ssx)}
	l.Intercept, l.Slope = stat.LinearRegression(x, y, nil, false)
	ss := 0.0
	for i := range x {
		r := y[i] - l.Intercept - l.Slope*x[i]
		ss += r * r
	}
	l.Residual = math.Sqrt(ss / float64(n-2))
	return l, true
}

// P is the two-sided p-value of the slope by Student's t. least is a standard
// deviation of y known otherwise, below which the scatter about the line is
// luck: few points can lie closer to a line than their errors let them.
func (l Line) P(least float64) float64 {
	sd := math.Max(l.Residual, least)
	if sd == 0 {
		if l.Slope == 0 {
			return 1
		}
		return 0
	}
	t := math.Abs(l.Slope) * l.Spread / sd
	return 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(l.N - 2)}.Survival(t)
}
