package main

import (
	"math"
	"math/rand/v2"

	"threewire/analyze/stats"
)

// scored is a score with its bootstrap interval (95 %, percentiles).
type scored struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// bin is one cell of a reliability diagram; Low and High are the Wilson
// interval of Observed.
type bin struct {
	Count    int     `json:"count"`
	Stated   float64 `json:"stated"`
	Observed float64 `json:"observed"`
	Low      float64 `json:"low"`
	High     float64 `json:"high"`
}

// calibration says whether probabilities mean what they say.
type calibration struct {
	Count   int     `json:"count"`
	ECE     scored  `json:"expected_calibration_error"`
	Largest float64 `json:"largest_gap"`
	Brier   scored  `json:"brier"`
	Bins    []bin   `json:"bins"`
}

// bins of the calibration error, and of the finer diagram.
const (
	eceBins     = 10
	diagramBins = 20
	resamples   = 1000
)

// calibrate scores probabilities against outcomes. The interval comes from
// resampling the cases (Efron B., Ann. Statist. 7 (1979) 1); its generator is
// seeded, so the same outcomes give the same interval. The error of a small
// sample is too large by its own noise, in the resamples twice.
func calibrate(p []float64, hit []bool) calibration {
	c := calibration{Count: len(p)}
	if len(p) == 0 {
		return c
	}
	var ece, brier []float64
	q, h := make([]float64, len(p)), make([]bool, len(p))
	r := rand.New(rand.NewPCG(1, 2))
	for range resamples {
		for i := range q {
			k := r.IntN(len(p))
			q[i], h[i] = p[k], hit[k]
		}
		e, _ := stats.ECE(q, h, eceBins)
		ece = append(ece, e)
		brier = append(brier, stats.Brier(q, h))
	}
	e, most := stats.ECE(p, hit, eceBins)
	c.ECE = scored{finite(e), stats.Quantile(ece, 0.025), stats.Quantile(ece, 0.975)}
	c.Largest = finite(most)
	c.Brier = scored{finite(stats.Brier(p, hit)), stats.Quantile(brier, 0.025), stats.Quantile(brier, 0.975)}
	for _, b := range stats.Reliability(p, hit, diagramBins) {
		if b.Count == 0 {
			continue
		}
		lo, hi := stats.Wilson(int(math.Round(b.Observed*float64(b.Count))), b.Count, 0.95)
		c.Bins = append(c.Bins, bin{b.Count, b.Forecast, b.Observed, lo, hi})
	}
	return c
}

// The three questions put to a probability.
func (o *outcome) acceptedAt() (p float64, hit, ok bool) { return o.Probability, o.right(), o.stated() }
func (o *outcome) truthAt() (p float64, hit, ok bool)    { return o.Probability, o.named(), o.stated() }
func (o *outcome) partAt() (p float64, hit, ok bool) {
	return o.PartProbability, o.partRight(), o.Part != cannotTell
}

func calibrateBy(list []*outcome, ask func(*outcome) (float64, bool, bool)) calibration {
	var p []float64
	var hit []bool
	for _, o := range list {
		if o.Error != "" || o.Kind == extra {
			continue
		}
		if q, h, ok := ask(o); ok {
			p, hit = append(p, q), append(hit, h)
		}
	}
	return calibrate(p, hit)
}
