package analyze

import "slices"

// A contact that lets go by chance does so now soon after the drive set out and now late:
// of waits that chance makes (an exponential), nine tenths and one tenth of them lie three
// medians apart. A shaft that is driven from one side of a bad place to the other takes as
// long each time, so the waits of a place lie close together, whatever the control makes of
// them.

// leapsKeepTime tells whether the leaps under drive, both ways, come as long after the drive
// set out each time, where none comes at rest and a track was found that is open beyond a
// place. The waits are alike where they lie within four tenths of their median: eight times
// as close as chance puts them, and no drive or load changes that much from one reversal to
// the next (chosen, not derived).
func (w *work) leapsKeepTime() bool {
	const (
		least  = 6 // leaps each way: of so many the quantiles tell
		spread = 0.4
	)
	if !slices.ContainsFunc(w.found, func(f Finding) bool {
		return f.Kind == DeadSpot && f.Form == openBeyond && f.Strength > 0.5 && f.value(MeasureLeapsAtRest) == 0
	}) {
		return false
	}
	var waits [2][]float64
	for _, l := range w.allLeaps() {
		if l.moving && !l.coasting && l.direction != None && l.move >= 0 {
			d := side(l.direction)
			waits[d] = append(waits[d], lapse(l.at, w.moves[l.move].Time.From))
		}
	}
	for _, x := range waits {
		if len(x) < least || quantileOf(x, 0.9)-quantileOf(x, 0.1) > spread*medianOf(x)+2*w.tr.Step {
			return false
		}
	}
	return true
}
