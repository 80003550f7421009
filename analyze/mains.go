package analyze

import "math"

// mainsWithin is how far, as a share of it, the mains may be off 50 or 60 Hz. EN 50160
// asks for 1 % in 99.5 % of a year, large grids seldom leave 0.2 % (both from memory).
const mainsWithin = 0.002

// mainsInTeeth is the same for the line of teeth that let go at a stop: stands are short
// and their spectrum coarse (chosen, not derived).
const mainsInTeeth = 0.01

// foldedTo is the frequency, in Hz, at which a sampling rate shows one that is too fast
// for it.
func foldedTo(hz, rate float64) float64 { return math.Abs(hz - rate*math.Round(hz/rate)) }
