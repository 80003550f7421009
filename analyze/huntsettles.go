package analyze

import "math"

// settlesInTheEnd is the measure of a hunting that ended by itself each time, with the
// drive at rest: in how many bouts.
const settlesInTheEnd = "bouts that ended at rest"

// What a control does that overshoots a little and steps back until its reading is right,
// against one that is lost: few reversals each time, over a few percent of the travel (both
// chosen, not derived), and then a rest.
const (
	boutTurns   = 9    // reversals of one bout
	smallSwing  = 0.03 // of the travel
	restsAtLast = 0.5  // s, longer than a control takes to answer a reading
)

// joinSettled marks hunting of which each bout ended by itself in a rest, short and over
// little of the travel, while the reading answered: the control did find its place, after
// more corrections than it should need. What a control that is lost does goes on until it
// is sent elsewhere, or gives up by its clock.
func (w *work) joinSettled() {
	bouts := 0
	var marked []*Finding
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Hunting || f.Strength < 0.3 {
			continue
		}
		amp, _ := f.Measure(MeasureAmplitudeOfSpan)
		n := w.boutsAtRest(f)
		if !f.has(answersAtOnce) || f.has(readingLeaps) || amp > 100*smallSwing || n == 0 {
			return
		}
		bouts += n
		marked = append(marked, f)
	}
	if bouts < 2 {
		return
	}
	for _, f := range marked {
		f.Measures = append(f.Measures, Measure{settlesInTheEnd, float64(bouts), ""})
	}
}

// boutsAtRest counts the bouts of a hunting, 0 where one of them is long, or ended
// otherwise than in a rest.
func (w *work) boutsAtRest(f *Finding) int {
	from, to := w.movesOf(f)
	if from >= to {
		return 0
	}
	bouts, turned := 0, 0
	for k := from; k < to; k++ {
		next := w.t[len(w.t)-1]
		if k+1 < len(w.moves) {
			next = w.moves[k+1].Time.From
		}
		rest := next - w.moves[k].Time.To
		if rest >= math.Max(restsAtLast, w.moves[k].Duration()) {
			if turned > 1 {
				bouts++
			}
			turned = 0
			continue
		}
		turned++
		if turned > boutTurns {
			return 0
		}
	}
	// What the last move belongs to may go on, or be a drive to elsewhere.
	if turned > 1 {
		return 0
	}
	return bouts
}
