package stats

import (
	"math"
	"slices"
)

// MADScale makes the median absolute deviation of normal data its standard
// deviation: 1/Phi^-1(3/4).
const MADScale = 1.482602218505602

// allPairsRobust bounds the estimators that look at all pairs. Longer samples
// are represented by this many evenly spaced order statistics, which at this
// size differ from the full sample by far less than its own sampling error.
const allPairsRobust = 1500

// Median returns the middle value of x, or the mean of the two middle ones. An
// empty x, or NaN inside, gives NaN.
func Median(x []float64) float64 { return Quantile(x, 0.5) }

// Quantile returns the p-quantile of x by linear interpolation between order
// statistics: position (n-1)*p counted from 0. An empty x, or NaN inside,
// gives NaN. It panics if p is outside [0, 1].
//
// Source: definition 7 of Hyndman R.J., Fan Y., The American Statistician 50
// (1996) 361. It makes the 0.5-quantile the usual median.
func Quantile(x []float64, p float64) float64 {
	if !(p >= 0 && p <= 1) {
		panic("stats: quantile outside [0, 1]")
	}
	if len(x) == 0 {
		return math.NaN()
	}
	sorted := slices.Clone(x)
	slices.Sort(sorted) // NaN sorts first
	if sorted[0] != sorted[0] {
		return math.NaN()
	}
	return sortedQuantile(sorted, p)
}

func sortedQuantile(sorted []float64, p float64) float64 {
	pos := float64(len(sorted)-1) * p
	k := int(pos)
	frac := pos - float64(k)
	if frac == 0 || k+1 == len(sorted) || sorted[k] == sorted[k+1] {
		return sorted[k] // equal infinities have no difference
	}
	return sorted[k] + frac*(sorted[k+1]-sorted[k])
}

// MAD returns the median absolute deviation from the median, times [MADScale].
// An empty x, or NaN inside, gives NaN.
//
// Source: Hampel F.R., J. Amer. Statist. Assoc. 69 (1974) 383.
func MAD(x []float64) float64 {
	m := Median(x)
	dev := make([]float64, len(x))
	for i, v := range x {
		dev[i] = math.Abs(v - m)
	}
	return MADScale * Median(dev)
}

// HodgesLehmann returns the median of the means of all pairs of values,
// each value paired with itself too. An empty x, or NaN or infinity, gives
// NaN. Above 1500 values 1500 evenly spaced order statistics stand for them.
//
// Source: Hodges J.L., Lehmann E.L., Ann. Math. Statist. 34 (1963) 598.
func HodgesLehmann(x []float64) float64 {
	if len(x) == 0 || !finite(x) {
		return math.NaN()
	}
	sorted := slices.Clone(x)
	slices.Sort(sorted)
	sorted = thinSorted(sorted, allPairsRobust)
	means := make([]float64, 0, len(sorted)*(len(sorted)+1)/2)
	for i, a := range sorted {
		for _, b := range sorted[i:] {
			means = append(means, a+(b-a)/2)
		}
	}
	slices.Sort(means)
	return sortedQuantile(means, 0.5)
}

// Huber returns Huber's M-estimate of location with tuning constant k (1.5 is
// usual: 96 % efficient on normal data), the scale being fixed at [MAD]. With
// MAD zero it returns the median. An empty x, or NaN or infinity, gives NaN.
// It panics unless k > 0.
//
// Source: Huber P.J., Robust Statistics, Wiley 1981, sec. 6.4.
func Huber(x []float64, k float64) float64 {
	return mLocation(x, k, func(u float64) float64 { return math.Min(1, k/math.Abs(u)) })
}

// Biweight returns Tukey's biweight M-estimate of location with tuning
// constant c (4.685: 95 % efficient on normal data), the scale being fixed at
// [MAD] and the search starting at the median. Values further than c scales
// have no weight at all. Special cases are those of [Huber].
//
// Source: Beaton A.E., Tukey J.W., Technometrics 16 (1974) 147.
func Biweight(x []float64, c float64) float64 {
	return mLocation(x, c, func(u float64) float64 {
		r := u / c
		if math.Abs(r) >= 1 {
			return 0
		}
		return (1 - r*r) * (1 - r*r)
	})
}

func mLocation(x []float64, tuning float64, weight func(float64) float64) float64 {
	if !(tuning > 0) {
		panic("stats: tuning constant not positive")
	}
	if len(x) == 0 || !finite(x) {
		return math.NaN()
	}
	mu, scale := Median(x), MAD(x)
	if scale == 0 {
		return mu
	}
	for range 200 {
		var sum, total float64
		for _, v := range x {
			u := (v - mu) / scale
			w := weight(u)
			if u == 0 {
				w = 1
			}
			sum += w * u
			total += w
		}
		if total == 0 {
			break
		}
		step := sum / total * scale
		mu += step
		if math.Abs(step) <= 1e-12*scale {
			break
		}
	}
	return mu
}

// Sn returns the scale estimate of Rousseeuw and Croux that takes, for every
// value, the high median of its distances to all values, and of these the low
// median; scaled to the standard deviation of normal data, with factors for
// small samples. Fewer than two values, or NaN or infinity, give NaN.
// Above 1500 values 1500 evenly spaced order statistics stand for them.
//
// Source: Rousseeuw P.J., Croux C., J. Amer. Statist. Assoc. 88 (1993) 1273;
// factors from memory, see the test for their check by simulation.
func Sn(x []float64) float64 {
	n := len(x)
	if n < 2 || !finite(x) {
		return math.NaN()
	}
	sorted := slices.Clone(x)
	slices.Sort(sorted)
	sorted = thinSorted(sorted, allPairsRobust)
	n = len(sorted)
	inner := make([]float64, n)
	dist := make([]float64, n)
	for i, a := range sorted {
		for j, b := range sorted {
			dist[j] = math.Abs(a - b)
		}
		slices.Sort(dist)
		inner[i] = dist[n/2] // high median
	}
	slices.Sort(inner)
	raw := inner[(n+1)/2-1] // low median
	factor := 1.0
	small := [...]float64{2: 0.743, 1.851, 0.954, 1.351, 0.993, 1.198, 1.005, 1.131}
	switch {
	case n < len(small):
		factor = small[n]
	case n%2 == 1:
		factor = float64(n) / (float64(n) - 0.9)
	}
	return 1.1926 * factor * raw
}

// Qn returns the scale estimate of Rousseeuw and Croux that takes about the
// first quartile of the distances of all pairs, scaled to the standard
// deviation of normal data, with factors for small samples. Special cases and
// source are those of [Sn].
func Qn(x []float64) float64 {
	n := len(x)
	if n < 2 || !finite(x) {
		return math.NaN()
	}
	sorted := slices.Clone(x)
	slices.Sort(sorted)
	sorted = thinSorted(sorted, allPairsRobust)
	n = len(sorted)
	dist := make([]float64, 0, n*(n-1)/2)
	for i, a := range sorted {
		for _, b := range sorted[i+1:] {
			dist = append(dist, b-a)
		}
	}
	slices.Sort(dist)
	h := n/2 + 1
	raw := dist[h*(h-1)/2-1]
	small := [...]float64{2: 0.399356, 0.99365, 0.51321, 0.84401, 0.61220,
		0.85877, 0.66993, 0.87344, 0.72014, 0.88906, 0.75743}
	f := float64(n)
	var factor float64
	switch {
	case n < len(small):
		factor = small[n]
	case n%2 == 1:
		factor = 1 / (1 + (1.60188+(-2.1284-5.172/f)/f)/f)
	default:
		factor = 1 / (1 + (3.67561+(1.9654+(6.987-77/f)/f)/f)/f)
	}
	return 2.21914 * factor * raw
}
