package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// madeInSteps is the form of a pattern along the way that is the track's make, and no
// gear's.
const madeInSteps = "made in steps"

const (
	// turnScatter is by how much of itself the torque that a damaged gear takes differs
	// from turn to turn, friction and grease being what they are (common practice, no
	// source).
	turnScatter = 0.05

	// stepsCrossed is how often a place must have been crossed for a scatter to be told:
	// that of so many is known to a fifth, 1/sqrt(2 n).
	stepsCrossed = 12

	// twoTeeth is the share of a turn that two missing teeth of ten take ([halfTooth]): the
	// shaft stands for as long each time, with no torque to scatter.
	twoTeeth = 4 * halfTooth
)

// madeInSteps tells whether a pattern that is slow at every place in every pass is that of
// a track whose reading advances in steps of its own. The speed of a motor falls in
// proportion to its torque, so what slows it to the share s of its speed takes 1-s of the
// torque that stalls it, and a change of that torque by a share c changes the time it takes
// there by c (1-s)/s: near the stall no two turns of a gear take alike, and one or the
// other stalls. The steps of a track take alike each time. With a current the motor itself
// tells: where nothing holds it, it draws no more.
//
// Teeth that are missing take no torque, and as long each time: of a turn a tenth or two.
//
// dwell is the time per V at the places crossed, of either direction, over the usual, and
// width the share of the way that a place takes.
func (w *work) madeInSteps(f *Finding, s, width float64, dwell [2][]float64) bool {
	if len(dwell[0])+len(dwell[1]) < stepsCrossed || s > soundSwing*soundSwing || width < twoTeeth*(width+(1-width)*s) {
		return false
	}
	if there, beside := w.currentOfPlaces(f); beside > 0 {
		// Held so far it draws that much of what it draws in a stall; half of it tells.
		blocked := w.blockedCurrent(nil) - w.idleCurrent()
		if held := (1-s)*blocked + s*beside; held > 1.5*beside {
			return there-beside < (held-beside)/4
		}
	}
	for _, y := range dwell {
		usual := medianOf(y)
		if len(y) > 0 && !(medianOff(y, usual)/usual < turnScatter*(1-s)/s/2) {
			return false
		}
	}
	return s < soundSwing/2 // what leaves a gear half of its speed need not scatter
}

// medianOff is the usual distance from a level, as a standard deviation.
func medianOff(x []float64, level float64) float64 {
	var off []float64
	for _, v := range x {
		off = append(off, math.Abs(v-level))
	}
	return stats.MADScale * medianOf(off)
}

// joinSteps drops what the steps of a track look like on their own: stands and leaps, slow
// and steep places, reversals within one step.
func (w *work) joinSteps() {
	has := func(ok func(f Finding) bool) bool { return slices.ContainsFunc(w.found, ok) }
	// What springs on faster than the motor turns no track does.
	if !has(func(f Finding) bool { return f.Form == madeInSteps }) || has(func(f Finding) bool { return f.Event == stairway }) {
		return
	}
	w.found = slices.DeleteFunc(w.found, func(g Finding) bool {
		switch g.Kind {
		case SlowZone, StickSlip, Pauses, BentTrack, BentLine, Play:
			return true
		}
		return g.Kind == Jam && g.Form == jamOnce || g.Kind == DeadSpot && g.Form == heldAndJumped
	})
}

// stepsTitle says it in one sentence.
func (f *Finding) stepsTitle(spacing string) string {
	return fmt.Sprintf("Reading advances in even steps: every %s (%.1f %% of the span) at %.0f places it moves at %.0f %% of its usual speed, alike each of %.0f times.",
		spacing, f.value(MeasureSpacingOfSpan), f.value(MeasurePlaces), 100*f.value(slowestOverUsual), f.value(placesCrossed))
}
