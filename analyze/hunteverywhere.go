package analyze

import (
	"math"
	"slices"
)

// huntsAnywhere is the measure of hunting about two places or more, wherever it was sent.
const huntsAnywhere = "wherever it is sent"

// joinHunts looks at all hunting together. A worn place makes a control hunt there, and a
// lost end at that end; a control that turns its motor over too late, or aims too
// narrowly, does so about every place it is sent to, while the reading follows each drive
// at once: a limit cycle of the loop, as every loop with a delay and a switch has one.
func (w *work) joinHunts() {
	const (
		turns = 4   // at a place
		few   = 6   // reversals make three cycles, fewer tell no answer where they are short
		apart = 1.0 // amplitudes from place to place
	)
	var mids []float64
	amp, n := 0.0, 0
	for i := range w.found {
		f := &w.found[i]
		switch {
		case (f.Kind == DeadSpot || f.Kind == NoisyTrack || f.Kind == EndLoss || f.Kind == Play) && f.Strength > 0.5:
			return
		case f.Kind != Hunting || f.Strength < 0.5:
			continue
		case !f.has(answersAtOnce) && f.Seen < few && !f.has(doesNotAnswer) && !f.has(readingLeaps):
			continue
		case !f.has(answersAtOnce):
			return
		}
		n++
		a, _ := f.Measure(MeasureAmplitude)
		amp = math.Max(amp, a)
		for _, p := range f.Places {
			mids = append(mids, p.Volts.Mid())
		}
	}
	if n == 0 {
		return
	}
	slices.Sort(mids)
	places, from := 0, 0
	for i := 1; i <= len(mids); i++ {
		if i == len(mids) || mids[i]-mids[i-1] > apart*amp/2 {
			if i-from >= turns {
				places++
			}
			from = i
		}
	}
	if places < 2 {
		return
	}
	for i := range w.found {
		if f := &w.found[i]; f.Kind == Hunting && f.Strength >= 0.5 {
			f.Event = "hunting" // of one cause
			f.Measures = append(f.Measures, Measure{huntsAnywhere, float64(places), "places"})
		}
	}
}
