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

// Decay describes how an oscillation dies away, by its autocorrelation.
type Decay struct {
	R    float64 // A/B
	A    float64 // first maximum above the line through the two minima
	B    float64 // first minimum below the line from (0, r0) to the maximum
	Lags [3]int  // of the first minimum, first maximum and second minimum
}

// MiaoSeborg returns the oscillation index of an autocorrelation function.
// R > 0.5 means oscillating: the amplitude falls by less than one half in half
// a period of the function. For a pure decay by the factor d per half period
// R is d.
//
// Noise makes false extrema: smooth first. ok is false, and all numbers NaN, if
// the function has no minimum, maximum and second minimum inside its range, or
// NaN or infinity.
//
// Source: Miao T., Seborg D.E., Proc. IEEE Conf. Control Applications 1999,
// 359-364 (construction from memory; distances are vertical).
func MiaoSeborg(acf []float64) (d Decay, ok bool) {
	none := Decay{R: math.NaN(), A: math.NaN(), B: math.NaN()}
	if !finite(acf) {
		return none, false
	}
	var lags []int
	sign := -1.0 // -1 while looking for a minimum
	for k := 1; k+1 < len(acf) && len(lags) < 3; k++ {
		if sign*acf[k] > sign*acf[k-1] && sign*acf[k] >= sign*acf[k+1] {
			lags = append(lags, k)
			sign = -sign
		}
	}
	if len(lags) < 3 {
		return none, false
	}
	copy(d.Lags[:], lags)
	low, high, next := d.Lags[0], d.Lags[1], d.Lags[2]
	d.B = chord(0, acf[0], high, acf[high], low) - acf[low]
	d.A = acf[high] - chord(low, acf[low], next, acf[next], high)
	d.R = d.A / d.B
	return d, true
}

// chord returns the height at x of the line through (x0, y0) and (x1, y1).
func chord(x0 int, y0 float64, x1 int, y1 float64, x int) float64 {
	return y0 + (y1-y0)*float64(x-x0)/float64(x1-x0)
}

// MedianPeriod is the median time from one start of a half cycle to the second next; 0
// for fewer than three starts.
func MedianPeriod(starts []float64) float64 {
	var d []float64
	for i := 2; i < len(starts); i++ {
		d = append(d, starts[i]-starts[i-2])
	}
	if len(d) == 0 {
		return 0
	}
	return Median(d)
}
