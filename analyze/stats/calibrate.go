package stats

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// Sigmoid is a calibration map: probability = 1/(1 + exp(-(A*score + B))).
type Sigmoid struct{ A, B float64 }

// P returns the probability for a score.
func (s Sigmoid) P(score float64) float64 { return logistic(s.A*score + s.B) }

func logistic(z float64) float64 { return 1 / (1 + math.Exp(-z)) }

// softplus returns ln(1 + exp(z)) without overflow.
func softplus(z float64) float64 {
	return math.Max(z, 0) + math.Log1p(math.Exp(-math.Abs(z)))
}

// Platt fits a [Sigmoid] to scores and outcomes by maximum likelihood, with
// Platt's targets (n1+1)/(n1+2) and 1/(n0+2) in place of 1 and 0, which keep
// the slope finite when the scores separate the outcomes.
//
// ok is false if one outcome is missing, all scores are equal, or a score is
// NaN or infinite. It panics if the lengths differ.
//
// Source: Platt J., in Advances in Large Margin Classifiers, MIT Press 1999.
func Platt(score []float64, outcome []bool) (s Sigmoid, ok bool) {
	mustMatch(len(score), len(outcome))
	var ones float64
	for _, o := range outcome {
		ones += indicator(o)
	}
	zeros := float64(len(outcome)) - ones
	target := make([]float64, len(outcome))
	for i, o := range outcome {
		target[i] = 1 / (zeros + 2)
		if o {
			target[i] = (ones + 1) / (ones + 2)
		}
	}
	if ones == 0 || zeros == 0 {
		return Sigmoid{}, false
	}
	return logisticFit(score, target)
}

// logisticFit minimises the log loss of a sigmoid against targets in [0, 1].
func logisticFit(score, target []float64) (s Sigmoid, ok bool) {
	if len(score) < 2 || !finite(score) {
		return Sigmoid{}, false
	}
	// Standardised scores keep the two parameters of like size.
	centre := floats.Sum(score) / float64(len(score))
	spread := (floats.Max(score) - floats.Min(score)) / 2
	if spread == 0 {
		return Sigmoid{}, false
	}
	u := make([]float64, len(score))
	for i, v := range score {
		u[i] = (v - centre) / spread
	}
	// The loss is convex with a known second derivative, so Newton's method
	// with halved steps settles within a few rounds.
	loss := func(a, b float64) (sum float64) {
		for i, v := range u {
			z := a*v + b
			sum += softplus(z) - target[i]*z
		}
		return sum
	}
	var a, b float64
	current := loss(a, b)
	for range 100 {
		var ga, gb, haa, hab, hbb float64
		for i, v := range u {
			q := logistic(a*v + b)
			d, w := q-target[i], q*(1-q)
			ga += d * v
			gb += d
			haa += w * v * v
			hab += w * v
			hbb += w
		}
		det := haa*hbb - hab*hab
		if !(det > 0) {
			return Sigmoid{}, false
		}
		da, db := (hbb*ga-hab*gb)/det, (haa*gb-hab*ga)/det
		next := loss(a-da, b-db)
		for next > current && math.Abs(da)+math.Abs(db) > 1e-12 {
			da, db = da/2, db/2
			next = loss(a-da, b-db)
		}
		a, b, current = a-da, b-db, next
		if math.Abs(da)+math.Abs(db) <= 1e-12 {
			break
		}
	}
	a /= spread
	return Sigmoid{A: a, B: b - a*centre}, true
}

// TemperatureScale returns the temperature T that makes the log loss of
// 1/(1+exp(-score/T)) least. T > 1 means the scores were too sure of
// themselves.
//
// ok is false, and T NaN, if no finite positive T is best (the scores separate
// the outcomes, or are worse than chance), with no data, or NaN or infinity. It
// panics if the lengths differ.
//
// Source: Guo C. et al., ICML 2017.
func TemperatureScale(score []float64, outcome []bool) (temperature float64, ok bool) {
	mustMatch(len(score), len(outcome))
	rows := make([][]float64, len(score))
	class := make([]int, len(score))
	for i, s := range score {
		rows[i] = []float64{0, s}
		if outcome[i] {
			class[i] = 1
		}
	}
	return TemperatureScaleClasses(rows, class)
}

// TemperatureScaleClasses is [TemperatureScale] for several classes: score[i]
// holds the scores (logarithms of probabilities up to a constant) of case i and
// class[i] the index of what it was; an index outside the row panics.
func TemperatureScaleClasses(score [][]float64, class []int) (temperature float64, ok bool) {
	mustMatch(len(score), len(class))
	var largest float64
	for i, row := range score {
		if class[i] < 0 || class[i] >= len(row) {
			panic("stats: class outside the scores")
		}
		if !finite(row) {
			return math.NaN(), false
		}
		largest = math.Max(largest, floats.Max(row)-floats.Min(row))
	}
	// The loss is convex in 1/T, so its derivative has one zero at most.
	slope := func(inverse float64) float64 {
		var sum float64
		for i, row := range score {
			top := floats.Max(row)
			var weight, mean float64
			for _, s := range row {
				w := math.Exp(inverse * (s - top))
				weight += w
				mean += w * (s - top)
			}
			sum += mean/weight - (row[class[i]] - top)
		}
		return sum
	}
	// Beyond 1e6 over the largest score every probability is 0 or 1.
	lo, hi := 0.0, 1e6/largest
	if largest == 0 || slope(lo) >= 0 || slope(hi) <= 0 {
		return math.NaN(), false
	}
	for range 200 {
		mid := lo + (hi-lo)/2
		if mid == lo || mid == hi {
			break
		}
		if slope(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return 1 / hi, true
}

// Isotonic stores in dst the non-decreasing sequence nearest to y in weighted
// least squares; nil weights mean 1. NaN or infinity in y gives NaN everywhere.
// It panics if the lengths differ or a weight is not positive.
//
// Source: pool adjacent violators, Ayer M. et al., Ann. Math. Statist. 26
// (1955) 641.
func Isotonic(dst, y, weights []float64) []float64 {
	dst = useDst(dst, len(y))
	if weights != nil {
		mustMatch(len(y), len(weights))
	}
	if !finite(y) {
		return fill(dst, math.NaN())
	}
	type block struct {
		sum, weight float64
		end         int
	}
	var blocks []block
	for i, v := range y {
		w := 1.0
		if weights != nil {
			w = weights[i]
			if !(w > 0) {
				panic("stats: weight not positive")
			}
		}
		b := block{v * w, w, i + 1}
		for len(blocks) > 0 {
			last := blocks[len(blocks)-1]
			if last.sum*b.weight < b.sum*last.weight {
				break
			}
			b.sum += last.sum
			b.weight += last.weight
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	start := 0
	for _, b := range blocks {
		fill(dst[start:b.end], b.sum/b.weight)
		start = b.end
	}
	return dst
}
