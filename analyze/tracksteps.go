package analyze

import (
	"fmt"
	"math"
	"slices"
)

// madeInSteps is the form of a pattern along the way that is the track's make, and no
// gear's.
const madeInSteps = "made in steps"

// mostIdle is what a brushed motor of this size draws at most when nothing loads it, over what
// it draws when it is held: (1-sqrt(e))^2 of its best efficiency e, which is the textbook's
// relation of a motor with constant friction, and 0.4 for a poor one (common practice, no
// source).
const mostIdle = 0.135

// madeInSteps tells whether a pattern that is slow at places evenly spaced is that of a
// track whose reading advances in steps of its own, by the motor's current: what slows a
// motor to the share s of its speed makes it draw that much more of what it draws when it
// is held, I = s Irun + (1-s) Iheld, and teeth that are missing let it draw less. A track
// does neither. Where the motor draws no more than it may with nothing to drive, there is no
// load for missing teeth to take away. Then, and without a current, see standsForSteps.
func (w *work) madeInSteps(f *Finding, s float64) bool {
	there, beside := w.currentOfTurns(f)
	held := (1-s)*(w.blockedCurrent(nil)-w.idleCurrent()) + s*beside
	if !(beside > 0 && held > 1.5*beside) || beside < mostIdle*(w.blockedCurrent(nil)-w.idleCurrent()) && there < beside+(held-beside)/4 {
		return w.standsForSteps(f)
	}
	// A quarter of the way there is what a sound door's load makes; gears that mesh no
	// more leave less than soundSwing of what runs them (chosen, not derived).
	return there-beside < (held-beside)/4 && there > soundSwing*beside
}

// standsForSteps tells the same where no current was logged, by how long the reading keeps
// one level. A gear does not turn the shaft where its teeth are missing; gears have ten teeth
// and more (common practice, no source), and three of ten that are gone, one beside the other,
// are three tenths of the turn's time. One off its centre, or that jams, slows the shaft and
// does not hold it. Where the reading stands for a third of the time of each turn and longer,
// at the same readings both ways, the track has steps: a gear's places lie apart by its play,
// and friction counts from where a drive began.
func (w *work) standsForSteps(f *Finding) bool {
	apart, both := f.Measure(MeasurePlacesApart)
	step, _ := f.Measure(MeasureSpacing)
	if !both || apart > halfTooth*step || !w.standsLong(f) {
		return false
	}
	f.Measures = append(f.Measures, Measure{standsAThird, 1, ""})
	return true
}

// standsAThird is the name of a measure that steps have which were told by their stands.
const standsAThird = "stands for a third of each step"

// standsLong tells whether the reading stands at slow places for a third of the time from
// one to the next and longer. It then takes the rest of that time, two thirds at the most, for
// the whole step, so in the third midway between two it makes half of the step or more (a third
// at an even speed); and about the places it gets nowhere. A speed that swings evenly, as that
// of a gear off its centre, makes as much midway where it falls to three tenths of its highest,
// but a fifth of the step about the place, too. Nowhere is less than a tenth of its mean speed:
// a motor that is loaded so far stalls rather than runs on (common practice, no source).
//
// A shaft that friction lets go springs on by what gears and linkage have wound up, in a few
// hundredths of a second; the motor does not turn it there. So the way between two stands must
// take a third of the time, three times the mean pace, or a tenth of a second.
func (w *work) standsLong(f *Finding) bool {
	const (
		midway  = 0.5
		nowhere = 0.1 / 3
	)
	step, _ := f.Measure(MeasureSpacing)
	var there, between, turns []float64
	for i := 1; i+1 < len(f.Places); i++ {
		before, at, after := f.Places[i-1].Time.Mid(), f.Places[i].Time.Mid(), f.Places[i+1].Time.Mid()
		k := w.driveAt(at)
		if k < 0 || k != w.driveAt(before) || k != w.driveAt(after) {
			continue
		}
		turn := math.Abs(after-before) / 2
		turns = append(turns, turn)
		if x := w.gotOn(k, at, turn/3) / step; !math.IsNaN(x) {
			there = append(there, x)
		}
		if x := w.gotOn(k, (at+after)/2, turn/3) / step; !math.IsNaN(x) {
			between = append(between, x)
		}
	}
	if len(there) < 4 || len(between) < 4 { // a finding's places, see leastTurns
		return false
	}
	b := medianOf(between)
	return medianOf(there) < nowhere && b >= midway && (b <= 1 || riserShare(b)*medianOf(turns) > 2*shortestRest)
}

// riserShare is for how much of the time of a step the reading rises, where a line laid over
// the third of that time midway makes more than one step. Of a rise of one over the share u of
// a stretch, in its middle, the least-squares line makes 3/2 - u²/2.
func riserShare(line float64) float64 { return math.Sqrt(math.Max(0, 2*(1.5-line))) / 3 }

// gotOn is how far the reading gets in the direction of a move over seconds about a time, V,
// by a line through its rows; NaN where these are too few for one.
func (w *work) gotOn(move int, at, seconds float64) float64 {
	a, b := indexAt(w.t, at-seconds/2), indexAt(w.t, at+seconds/2)
	if b-a < 4 {
		return math.NaN()
	}
	slope, _ := straightLine(w.t[a:b], w.raw[a:b])
	return slope * seconds * float64(w.moves[move].Direction)
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
	i := slices.IndexFunc(w.found, func(f Finding) bool { return f.Form == madeInSteps })
	if i < 0 {
		return
	}
	// What springs on after stands that do not come at the same readings both ways is the
	// shaft; a track that stands between its steps is as much steeper in them.
	if !w.found[i].has(standsAThird) && slices.ContainsFunc(w.found, func(f Finding) bool { return f.Event == stairway }) {
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
	if f.has(standsAThird) {
		return fmt.Sprintf("Reading advances in even steps: every %s (%.1f %% of the span) at %.0f places it stands for a third of the time and longer, at the same readings both ways.",
			spacing, f.value(MeasureSpacingOfSpan), f.value(MeasurePlaces))
	}
	return fmt.Sprintf("Reading advances in even steps: every %s (%.1f %% of the span) at %.0f places it moves at %.0f %% of its usual speed, and the motor draws no more there.",
		spacing, f.value(MeasureSpacingOfSpan), f.value(MeasurePlaces), 100*f.value(slowestOverUsual))
}
