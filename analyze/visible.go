package analyze

import "math"

// What follows decides what a capture can show. The finders ask it of a capture
// that was taken, [Foresee] of one that is planned.

// resolved gives the noise and the converter step, in V, of a bin that is the
// mean of rows, from the noise of a bin and the step of a row, and the least
// change of a single reading that is not noise. The mean of many rows is finer
// than one step, if the noise of a row spreads it over the codes: half a step
// rms does (dither).
func resolved(lim Limits, noise, quantum, rows, ref float64) (n, q, change float64) {
	if k := math.Sqrt(rows); k > 1 && noise*k > 0.4*quantum {
		quantum /= k
	}
	noise = math.Max(noise, math.Max(quantum/math.Sqrt(12), 1e-6*ref))
	return noise, quantum, lim.NoiseSigmas*noise + quantum
}

// windowRows is the length, in rows, of the regression that measures a local
// rate (see rateWindow), before hum and wander, and the most it may become.
func windowRows(noise, quantum, rate, step, travel float64) (n, most float64) {
	h := math.Max(step, 1e-9)
	n = math.Cbrt(12 * math.Pow(noise/(0.04*rate*h), 2))
	n = math.Max(n, 2*quantum/(rate*h))
	most = math.Max(0.06*travel, 2*quantum) / (rate * h) // places closer than steps no reading tells apart
	n = math.Min(n, most)
	return math.Max(n, math.Min(0.01/h, 9)), most // no faster than the mechanics
}

// shortestHold is the shortest dead spot, in V, over which the reading only
// holds and then jumps, that shows wherever the rows fall: it must fill the
// window of the rate regression and a row, or it passes for slow; and the jump
// must exceed noise and the grain of a sound track. perRow is the travel of the
// shaft from row to row.
func shortestHold(change, ref float64, window int, perRow float64) float64 {
	return math.Max(float64(window+1)*perRow, math.Max(change, soundGrain*ref))
}

// rowsATravel is the least number of rows in a travel that show a worn place:
// then one row is 2 % of it, as wide as the spots that make a control hunt
// (common practice, no source).
const rowsATravel = 50

// A control that reverses faster than twice in cycleSeen rows seems to reverse
// more slowly (Nyquist, with a row to spare on either side of each reversal);
// from cycleShown rows a cycle on its swing shows to 5 %.
const cycleSeen, cycleShown = 4, 10

// fastestHunt is how often a second, at most, a gear motor's output goes to and
// fro.
const fastestHunt = 10.0

// leastDrift is the least change of a stop's level, in V, that is called a drift. A stop
// gives by up to [springBack] under the motor's torque, which falls by a fifth as its
// copper warms by 50 K: 0.4 % of the span. Half as much again is left to a seal that
// settles, and as large a share of the reference to the gain of an instrument that warms
// up (both chosen).
func leastDrift(span, ref float64) float64 { return math.Max(0.006*span, 0.006*ref) }

// profileCells is into how many stretches the travel is cut to compare speeds.
func profileCells(span, noise, quantum float64) int {
	return int(span / math.Max(span/40, 3*noise+quantum))
}

// roughWidth is the width, in V, of the stretches whose noise is compared.
func roughWidth(span, perRow float64) float64 { return math.Max(span/50, 6*perRow) }

// roughLimit is what the second differences of n readings in one stretch must
// exceed, base being what they are elsewhere.
func roughLimit(base, n float64) float64 { return base * (2.5 + 6/math.Sqrt(n)) }
