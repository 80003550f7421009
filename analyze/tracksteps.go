package analyze

import (
	"fmt"
	"math"
	"slices"
)

// madeInSteps is the form of a pattern along the way that is the track's make, and no
// gear's.
const madeInSteps = "made in steps"

// madeInSteps tells whether a pattern that is slow at places evenly spaced is that of a
// track whose reading advances in steps of its own, by the motor's current: what slows a
// motor to the share s of its speed makes it draw that much more of what it draws when it
// is held, I = s Irun + (1-s) Iheld, and teeth that are missing let it draw less. A track
// does neither. Without a current the two cannot be told apart: missing teeth hold the
// shaft for as long at each turn, as steps hold the reading.
func (w *work) madeInSteps(f *Finding, s float64) bool {
	there, beside := w.currentOfTurns(f)
	held := (1-s)*(w.blockedCurrent(nil)-w.idleCurrent()) + s*beside
	// A quarter of the way there is what a sound door's load makes; gears that mesh no
	// more leave less than soundSwing of what runs them (chosen, not derived).
	return beside > 0 && held > 1.5*beside && there-beside < (held-beside)/4 && there > soundSwing*beside
}

// currentOfTurns gives the usual current, above what flows at rest, in the middle of the
// slow places of a pattern and midway between one and the next; NaN where none is to be had.
func (w *work) currentOfTurns(f *Finding) (there, beside float64) {
	var in, out []float64
	add := func(to *[]float64, i Interval) {
		if x := w.currentWithin(i.From+i.Width()/4, i.To-i.Width()/4); !math.IsNaN(x) {
			*to = append(*to, x)
		}
	}
	for i := 1; i < len(f.Places); i++ {
		a, b := f.Places[i-1].Time, f.Places[i].Time
		if k := w.driveAt(a.Mid()); k >= 0 && k == w.driveAt(b.Mid()) {
			add(&in, a)
			add(&out, Interval{min(a.To, b.To), max(a.From, b.From)})
		}
	}
	if len(in) == 0 || len(out) == 0 {
		return math.NaN(), math.NaN()
	}
	idle := w.idleCurrent()
	return medianOf(in) - idle, medianOf(out) - idle
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
	return fmt.Sprintf("Reading advances in even steps: every %s (%.1f %% of the span) at %.0f places it moves at %.0f %% of its usual speed, and the motor draws no more there.",
		spacing, f.value(MeasureSpacingOfSpan), f.value(MeasurePlaces), 100*f.value(slowestOverUsual))
}
