package stats

import (
	"math"
)

// Sigmoid is a calibration map: probability = 1/(1 + exp(-(A*score + B))).
type Sigmoid struct{ A, B float64 }

// P returns the probability for a score.
func (s Sigmoid) P(score float64) float64 { return logistic(s.A*score + s.B) }

func logistic(z float64) float64 { return 1 / (1 + math.Exp(-z)) }
