package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// dropShiftBeyondEdge leaves out a reading that steps with the drive only where the track
// is open: an open wire takes a while to reach its level, so the reading steps at each
// switching that falls into that while, or that takes the shaft over the edge. A current in
// the sensor's wires steps the reading wherever the shaft is. So the steps must all but
// one in seven (as for [work.findClearShift]) reach beyond the edge, and the switchings on
// the sound side, where such a step would have shown, must be without one more often than
// chance makes of it (Fisher's exact test).
func (w *work) dropShiftBeyondEdge() {
	edge := slices.IndexFunc(w.found, func(f Finding) bool {
		_, ok := f.Measure(MeasureEdge)
		return ok && f.Kind == DeadSpot && f.Form == openBeyond && f.Direction != None && f.Strength > 0.5
	})
	if edge < 0 {
		return
	}
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
		return f.Kind == DriveShift && (f.Form == withDirection || f.Form == alikeBothWays) && w.onlyBeyond(f.value(MeasureStep), &w.found[edge])
	})
}

// onlyBeyond tells whether the drive's switchings step the reading beyond an edge of the
// track and not on its sound side, for steps of so many V.
func (w *work) onlyBeyond(step float64, edge *Finding) bool {
	at, dir, near := edge.value(MeasureEdge), float64(edge.Direction), w.resolution()
	var count [2][2]int // beyond or not; clear or not
	for _, s := range w.driveSteps(restBetween) {
		if !s.clear && s.need > step {
			continue // would not have shown
		}
		beyond, clear := 0, 0
		if math.Max(dir*(s.level-at), dir*(s.level+s.size-at)) > near {
			beyond = 1
		}
		if s.clear {
			clear = 1
		}
		count[beyond][clear]++
	}
	out, in := count[1], count[0]
	return float64(out[1]) >= 0.85*float64(out[1]+in[1]) &&
		stats.FisherExact(out[1], out[0], in[1], in[0]) <= w.lim.Significance
}
