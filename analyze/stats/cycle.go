package stats

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// ZeroCrossings returns where x changes sign, in samples from x[0], by linear
// interpolation. A run of exact zeros between opposite signs is one crossing at
// its middle; between equal signs, or at either end, it is none. NaN or
// infinity gives nil.
func ZeroCrossings(x []float64) []float64 {
	if !finite(x) {
		return nil
	}
	var at []float64
	last := -1 // last index with a sign
	for i, v := range x {
		if v == 0 {
			continue
		}
		if last >= 0 && (x[last] > 0) != (v > 0) {
			if i-last > 1 {
				at = append(at, float64(last+i)/2)
			} else {
				at = append(at, float64(last)+x[last]/(x[last]-v))
			}
		}
		last = i
	}
	return at
}

// Cycle describes how regularly a function crosses zero.
type Cycle struct {
	Period    float64 // twice the mean interval between crossings, in samples
	R         float64 // mean interval / (3 standard deviations, divisor n-1)
	RN        float64 // the same with divisor n
	Intervals int     // intervals used, at most 10
}

// regularityIntervals is the number of intervals used: the first 11 crossings
// (Thornhill et al. 2003). Later ones lie where the autocorrelation has
// decayed into noise.
const regularityIntervals = 10

// Regularity judges an oscillation from the zero crossings of an
// autocorrelation function, such as [ACF] gives. R > 1 means regular: the
// period then stands clear of three standard deviations. The source leaves the
// divisor of the standard deviation open. R uses n-1, the stricter; RN is given
// for comparison. Equal intervals give +Inf.
//
// ok is false, and all numbers NaN, with fewer than three crossings (two
// intervals): there is then no spread to measure. Fewer than about ten
// intervals make R itself uncertain; see Intervals.
//
// Source: Thornhill N.F., Huang B., Zhang H., J. Process Control 13 (2003)
// 91-100.
func Regularity(acf []float64) (c Cycle, ok bool) {
	crossings := ZeroCrossings(acf)
	if len(crossings) > regularityIntervals+1 {
		crossings = crossings[:regularityIntervals+1]
	}
	var intervals []float64
	for i := 1; i < len(crossings); i++ {
		intervals = append(intervals, crossings[i]-crossings[i-1])
	}
	return regularityOf(intervals)
}

func regularityOf(intervals []float64) (c Cycle, ok bool) {
	n := len(intervals)
	if n < 2 {
		return Cycle{Period: math.NaN(), R: math.NaN(), RN: math.NaN(), Intervals: n}, false
	}
	mean, sd := stat.MeanStdDev(intervals, nil)
	sdn := sd * math.Sqrt(float64(n-1)/float64(n))
	return Cycle{Period: 2 * mean, R: mean / (3 * sd), RN: mean / (3 * sdn), Intervals: n}, true
}

// UsualPeriod is the usual time from one start of a half cycle to the second next: the mean
// of those within a quarter of their median, so that pauses and lost reversals do not count,
// and what rows round the starts to cancels from one cycle to the next. 0 for fewer than
// three starts.
func UsualPeriod(starts []float64) float64 {
	var d []float64
	for i := 2; i < len(starts); i++ {
		d = append(d, starts[i]-starts[i-2])
	}
	if len(d) == 0 {
		return 0
	}
	middle := Median(d)
	var usual []float64
	for _, x := range d {
		if math.Abs(x-middle) <= middle/4 {
			usual = append(usual, x)
		}
	}
	if len(usual) == 0 {
		return middle // two lengths that differ by more
	}
	return stat.Mean(usual, nil)
}
