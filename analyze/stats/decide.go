package stats

import "math"

// Posterior multiplies the prior by the likelihoods, state by state, and scales
// the result to sum 1. Prior and likelihoods need not sum to 1. The product
// assumes that the evidence is independent given the state; likelihoods from
// one capture seldom are, and the answer is then too sure of itself.
//
// ok is false if every state ends with weight zero, or a weight is negative,
// NaN or infinite. It panics if the lengths differ.
func Posterior(prior []float64, likelihoods ...[]float64) (posterior []float64, ok bool) {
	// Logarithms keep long products from vanishing.
	logs := make([]float64, len(prior))
	most := math.Inf(-1)
	for i, p := range prior {
		logs[i] = math.Log(p)
		for _, l := range likelihoods {
			mustMatch(len(prior), len(l))
			logs[i] += math.Log(l[i])
		}
		if logs[i] != logs[i] || math.IsInf(logs[i], 1) {
			return nil, false
		}
		most = math.Max(most, logs[i])
	}
	if math.IsInf(most, -1) {
		return nil, false
	}
	var sum float64
	for i, l := range logs {
		logs[i] = math.Exp(l - most)
		sum += logs[i]
	}
	for i := range logs {
		logs[i] /= sum
	}
	return logs, true
}

// BestAction returns the action of largest expected utility and that utility.
// utility[a][s] is what action a is worth in state s; p are the probabilities
// of the states. Among equals the first wins. No actions give -1 and NaN. It
// panics if a row's length differs from that of p.
func BestAction(p []float64, utility [][]float64) (action int, expected float64) {
	action, expected = -1, math.NaN()
	for a, row := range utility {
		mustMatch(len(p), len(row))
		var u float64
		for s, v := range row {
			if p[s] != 0 { // an impossible state may be infinitely bad
				u += p[s] * v
			}
		}
		if action < 0 || u > expected {
			action, expected = a, u
		}
	}
	return action, expected
}

// EVPI returns the expected value of perfect information: how much better one
// could do on average knowing the state before acting, in units of utility.
// best(q) is the expected utility of what one would do at the probabilities q:
// that of [BestAction], or of a rule that does not leave every action open at
// every q.
//
// Source: Raiffa H., Schlaifer R., Applied Statistical Decision Theory, Harvard
// 1961.
func EVPI(p []float64, best func(q []float64) float64) float64 {
	informed := 0.0
	for s, prob := range p {
		if prob == 0 {
			continue
		}
		certain := make([]float64, len(p))
		certain[s] = 1
		informed += prob * best(certain)
	}
	return informed - best(p)
}

// EVSI returns the expected value of sample information: how much better one
// could do on average after seeing the result of a test, cost of the test not
// counted. likelihood[z][s] is the probability of result z in state s; for each
// state they must sum to 1 over the results. best is that of [EVPI]; where it
// takes the best of the same actions at all probabilities, EVSI lies between 0
// and EVPI.
//
// Source: as [EVPI].
func EVSI(p []float64, likelihood [][]float64, best func(q []float64) float64) float64 {
	informed := 0.0
	for _, row := range likelihood {
		mustMatch(len(p), len(row))
		chance := 0.0
		for s, l := range row {
			chance += p[s] * l
		}
		if q, ok := Posterior(p, row); ok {
			informed += chance * best(q)
		}
	}
	return informed - best(p)
}
