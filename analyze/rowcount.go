package analyze

import "math"

// Times are decimals, which floating point holds to the last bit only, and whose
// differences hang on where the clock began: 0.3 s over rows of 0.1 s are 2.9999..., and
// six rows of 5 ms may be more than 30 ms or less. Neither is to decide anything.

// lapse is the time from one moment to a later one, in whole nanoseconds.
func lapse(to, from float64) float64 { return math.Round((to-from)*1e9) / 1e9 }

// rows is how many whole rows some seconds hold.
func (w *work) rows(seconds float64) int { return int(math.Floor(w.inRows(seconds) + sameRow)) }

// rowsNear is how many rows some seconds are, to the nearest.
func (w *work) rowsNear(seconds float64) int { return int(math.Round(w.inRows(seconds) + sameRow)) }

// rowsOver is how many rows it takes for some seconds, or for more.
func (w *work) rowsOver(seconds float64) int { return int(math.Ceil(w.inRows(seconds) - sameRow)) }

func (w *work) inRows(seconds float64) float64 { return seconds / math.Max(w.tr.Step, 1e-9) }

// sameRow is the part of a row that is no time.
const sameRow = 1e-4
