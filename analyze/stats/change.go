package stats

import "math"

// Cusum is a two-sided cumulative sum chart.
type Cusum struct {
	Hi, Lo []float64 // upper and lower sums, in units of x, never negative
	First  int       // index of the first signal, -1 if there is none
	Side   int       // +1 upward, -1 downward, 0 none
}

// CUSUM runs the tabular cumulative sum of x against the target mu with
// allowance k and decision limit h, all in units of x. The sums start at zero
// and are not reset by a signal; a signal is a sum above h.
//
// A NaN sample is a missing one: the sums keep their values. It panics if k or
// h is negative or NaN.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, sec. 6.3.2.3; Page
// E.S., Biometrika 41 (1954) 100.
func CUSUM(x []float64, mu, k, h float64) Cusum {
	if !(k >= 0 && h >= 0) {
		panic("stats: negative CUSUM allowance or limit")
	}
	c := Cusum{Hi: make([]float64, len(x)), Lo: make([]float64, len(x)), First: -1}
	var hi, lo float64
	for i, v := range x {
		if v == v {
			hi = math.Max(0, hi+(v-mu)-k)
			lo = math.Max(0, lo-(v-mu)-k)
		}
		c.Hi[i], c.Lo[i] = hi, lo
		if c.First < 0 && (hi > h || lo > h) {
			c.First, c.Side = i, 1
			if lo > hi {
				c.Side = -1
			}
		}
	}
	return c
}

// EWMA stores in dst the exponentially weighted moving average of x:
// E[i] = lambda*x[i] + (1-lambda)*E[i-1], from the given start value.
//
// A NaN sample is a missing one: the average keeps its value. It panics unless
// 0 < lambda <= 1.
//
// Source: NIST/SEMATECH e-Handbook, sec. 6.3.2.4.
func EWMA(dst, x []float64, lambda, start float64) []float64 {
	mustLambda(lambda)
	dst = useDst(dst, len(x))
	e := start
	for i, v := range x {
		if v == v {
			e = lambda*v + (1-lambda)*e
		}
		dst[i] = e
	}
	return dst
}

// EWMALimits returns the control limits of an [EWMA] chart that has run for
// long: start -/+ width*sigma*sqrt(lambda/(2-lambda)), sigma being the standard
// deviation of single values and width usually 3.
//
// Source: NIST/SEMATECH e-Handbook, sec. 6.3.2.4.
func EWMALimits(start, sigma, lambda, width float64) (low, high float64) {
	mustLambda(lambda)
	half := width * sigma * math.Sqrt(lambda/(2-lambda))
	return start - half, start + half
}

func mustLambda(lambda float64) {
	if !(lambda > 0 && lambda <= 1) {
		panic("stats: lambda outside (0, 1]")
	}
}

// PageHinkley stores in dst the Page-Hinkley statistic for a rise of the mean
// and returns the index of the first value above lambda, or -1. Both delta
// (the drift to be tolerated) and lambda are in units of x.
//
// The variant: m[t] is the sum of x[i] - mean(x[0..i]) - delta, the running
// mean including the current sample, without forgetting; the statistic is m[t]
// less its smallest value so far. Feed -x to look for a fall.
//
// A NaN sample is a missing one: the statistic keeps its value.
//
// Source: Page E.S., Biometrika 41 (1954) 100; Hinkley D.V., Biometrika 58
// (1971) 509.
func PageHinkley(dst, x []float64, delta, lambda float64) (stat []float64, first int) {
	dst = useDst(dst, len(x))
	first = -1
	var m, mean, count float64
	least := math.Inf(1)
	ph := 0.0
	for i, v := range x {
		if v == v {
			count++
			mean += (v - mean) / count
			m += v - mean - delta
			least = math.Min(least, m)
			ph = m - least
		}
		dst[i] = ph
		if first < 0 && ph > lambda {
			first = i
		}
	}
	return dst, first
}

// PELT divides x into segments of constant mean so that the sum of squared
// residuals plus beta for every change is least. It returns the ends of the
// segments (one past the last index of each; the last one is len(x)) and the
// least cost.
//
// With noise of standard deviation s the usual penalty is beta = 2*s*s*ln(n).
// The answer is the exact optimum; pruning only saves work. Time grows with n
// when changes come at a steady rate, with n*n when there are none: 10000
// samples take 5 ms with a change every hundred and 0.4 s without any (see
// BenchmarkPELT), so reduce longer flat series first.
//
// No data, or NaN or infinity, give nil and NaN. It panics if beta is negative
// or NaN.
//
// Source: Killick R., Fearnhead P., Eckley I.A., J. Amer. Statist. Assoc. 107
// (2012) 1590-1598.
func PELT(x []float64, beta float64) (ends []int, cost float64) {
	if !(beta >= 0) {
		panic("stats: negative penalty")
	}
	n := len(x)
	if n == 0 || !finite(x) {
		return nil, math.NaN()
	}
	rss := newSegmentCost(x)
	best := make([]float64, n+1) // best[t]: least cost of x[:t], less one beta
	from := make([]int, n+1)     // start of the last segment of that optimum
	best[0] = -beta
	alive := []int{0}
	price := make([]float64, 0, n+1)
	for t := 1; t <= n; t++ {
		best[t] = math.Inf(1)
		price = price[:0]
		for _, s := range alive {
			p := best[s] + rss.of(s, t)
			price = append(price, p)
			if p+beta < best[t] {
				best[t], from[t] = p+beta, s
			}
		}
		// A start that is already worse than a change here stays worse.
		kept := alive[:0]
		for i, s := range alive {
			if price[i] < best[t] {
				kept = append(kept, s)
			}
		}
		alive = append(kept, t)
	}
	for t := n; t > 0; t = from[t] {
		ends = append(ends, t)
	}
	for i, j := 0, len(ends)-1; i < j; i, j = i+1, j-1 {
		ends[i], ends[j] = ends[j], ends[i]
	}
	return ends, best[n]
}

// segmentCost gives the sum of squared residuals about the mean of any stretch
// in constant time.
type segmentCost struct{ sum, square []float64 }

func newSegmentCost(x []float64) segmentCost {
	// Sums of squares about a far-off zero would cancel: centre first.
	centre := Median(x)
	c := segmentCost{make([]float64, len(x)+1), make([]float64, len(x)+1)}
	for i, v := range x {
		v -= centre
		c.sum[i+1] = c.sum[i] + v
		c.square[i+1] = c.square[i] + v*v
	}
	return c
}

func (c segmentCost) of(from, to int) float64 {
	s := c.sum[to] - c.sum[from]
	return math.Max(0, c.square[to]-c.square[from]-s*s/float64(to-from))
}

// Pettitt looks for one shift of level in x by ranks. It returns the number of
// values before the shift, Pettitt's K and its approximate two-sided
// probability without shift, 2*exp(-6*K*K/(n*n*n+n*n)).
//
// Fewer than two values, or NaN or infinity, give 0, NaN, NaN.
//
// Source: Pettitt A.N., Applied Statistics 28 (1979) 126-135.
func Pettitt(x []float64) (at int, k, p float64) {
	if len(x) < 2 || !finite(x) {
		return 0, math.NaN(), math.NaN()
	}
	n := float64(len(x))
	var sum float64
	for i, r := range Ranks(nil, x)[:len(x)-1] {
		sum += 2*r - n - 1
		if math.Abs(sum) > k {
			k, at = math.Abs(sum), i+1
		}
	}
	return at, k, math.Min(1, 2*math.Exp(-6*k*k/(n*n*n+n*n)))
}
