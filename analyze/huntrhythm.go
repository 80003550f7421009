package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// loosePeriod is the relative spread of half periods beyond which reversals are
// no limit cycle any more: intervals that come at random, as those of a Poisson
// process do, have 1.4826 ln 3 / 2 / ln 2 = 0.6 about their median of pairs.
const loosePeriod = 0.6

// relSpread is the relative scatter of the half cycles, from one start to the
// next: each is compared with the next of its own direction, since load makes
// one direction the longer, and so that a swing that dies down scatters little.
// A program repeats its times to a cycle of its loop; a person's scatter. One
// odd pause among many is left out by the median.
func relSpread(starts []float64) float64 {
	var half, diff []float64
	for i := 1; i < len(starts); i++ {
		half = append(half, starts[i]-starts[i-1])
	}
	for i := 2; i < len(half); i++ {
		diff = append(diff, math.Abs(half[i]-half[i-2]))
	}
	if len(diff) == 0 {
		return 0
	}
	return stats.MADScale / math.Sqrt2 * medianOf(diff) / medianOf(half)
}

// regularity is the autocorrelation zero-crossing ratio of Thornhill, Huang
// and Zhang (2003) on the drive polarity, which has no noise: above 1 is
// regular. ok is false with too few crossings.
func (w *work) regularity(a, b int) (float64, bool) {
	n := min(b-a, 4096)
	if n < 16 {
		return 0, false
	}
	x := make([]float64, n)
	for i := range x {
		at := w.t[a] + (w.t[b-1]-w.t[a])*float64(i)/float64(n-1)
		k := a
		if i > 0 {
			k = a + int(float64(b-1-a)*float64(i)/float64(n-1))
		}
		for k+1 < b && w.t[k+1] <= at {
			k++
		}
		x[i] = float64(w.d.pol[k])
	}
	c, ok := stats.Regularity(stats.ACF(nil, x, n-1))
	return c.R, ok
}
