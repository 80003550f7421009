package stats

import "math"

// Brier returns the mean squared difference between the forecast probabilities
// p and the outcomes. No forecasts, or NaN, give NaN. It panics if the lengths
// differ, as do all functions of this file.
//
// Source: Brier G.W., Mon. Weather Rev. 78 (1950) 1.
func Brier(p []float64, outcome []bool) float64 {
	mustMatch(len(p), len(outcome))
	var sum float64
	for i, v := range p {
		d := v - indicator(outcome[i])
		sum += d * d
	}
	return sum / float64(len(p))
}

func indicator(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// Bin is one cell of a reliability diagram.
type Bin struct {
	Count    int
	Forecast float64 // mean forecast in the bin, NaN when empty
	Observed float64 // share of true outcomes in the bin, NaN when empty
}

// Reliability sorts forecasts into equal bins of [0, 1]. A value on an edge
// belongs to the upper bin, 1 to the last. It gives nil if a forecast is NaN or
// outside [0, 1], and panics unless bins > 0.
//
// Source: Murphy A.H., Winkler R.L., Applied Statistics 26 (1977) 41.
func Reliability(p []float64, outcome []bool, bins int) []Bin {
	mustMatch(len(p), len(outcome))
	if bins < 1 {
		panic("stats: no bins")
	}
	cells := make([]Bin, bins)
	for i, v := range p {
		if !(v >= 0 && v <= 1) {
			return nil
		}
		b := &cells[binOf(v, bins)]
		b.Count++
		b.Forecast += v
		b.Observed += indicator(outcome[i])
	}
	for i := range cells {
		n := float64(cells[i].Count)
		cells[i].Forecast /= n
		cells[i].Observed /= n
	}
	return cells
}

// binOf compares with the edges k/bins as numbers, because v*bins rounds:
// 0.29*100 is below 29.
func binOf(v float64, bins int) int {
	k := min(int(v*float64(bins)), bins-1)
	if k+1 < bins && v >= float64(k+1)/float64(bins) {
		k++
	} else if k > 0 && v < float64(k)/float64(bins) {
		k--
	}
	return k
}

// ECE returns the expected calibration error of forecasts over equal bins, the
// mean |forecast - observed| weighted by count, and the largest one, MCE. NaN if
// there are no forecasts or one is NaN or outside [0, 1].
//
// Source: Guo C. et al., On calibration of modern neural networks, ICML 2017.
func ECE(p []float64, outcome []bool, bins int) (ece, mce float64) {
	cells := Reliability(p, outcome, bins)
	if cells == nil || len(p) == 0 {
		return math.NaN(), math.NaN()
	}
	for _, c := range cells {
		if c.Count == 0 {
			continue
		}
		gap := math.Abs(c.Forecast - c.Observed)
		ece += gap * float64(c.Count) / float64(len(p))
		mce = math.Max(mce, gap)
	}
	return ece, mce
}
