package analyze

import (
	"math"

	"threewire/signal"
)

// feedCut takes the bins out in which a control that sleeps has switched the sensor's
// supply off, and gives the stretches they took. Nothing is driven, the reading (and the
// logged reference, if there is one) lies at nothing, and both are back where they were
// just as the next drive begins: who drives wakes first. A contact that is loose comes
// back when it likes; that it does so within the last tenth of such a stretch has a chance
// of a tenth, and a loss that begins while the shaft stands is seldom the track's.
func (w *work) feedCut() []signal.Span {
	if w.d.none {
		return nil
	}
	ref, v := w.reference(), w.tr.Feedback.Mean
	gone := func(i int) bool { return math.Abs(float64(v[i])) < wiperMargin*ref && w.d.pol[i] == 0 }
	var out []signal.Span
	left := make([]bool, len(w.t))
	for a := 8; a < len(w.t)-8; a++ {
		if !gone(a) {
			continue
		}
		b := a
		for b < len(w.t) && gone(b) {
			b++
		}
		if from, to := w.feedCutAround(a, b); to > from {
			for i := from; i < to; i++ {
				left[i] = true
			}
			out = append(out, signal.Span{From: w.t[from], To: w.t[to-1]})
		}
		a = b
	}
	if len(out) == 0 {
		return nil
	}
	awake := w.tr.Without(left)
	if awake.Len() < max(8, len(w.t)/10) {
		return nil
	}
	w.keep(awake)
	return out
}

// feedCutAround is what the stretch of nothing over bins [from, to) takes with the rows on
// which its feed falls and rises; none where a sleeping control does not explain it.
func (w *work) feedCutAround(from, to int) (int, int) {
	const (
		least  = 0.5  // s, below which a loss is a drop-out
		soon   = 0.1  // of the stretch, from the return to the drive
		wakes  = 1.0  // s, likewise: longer than a filter at the control's input takes
		filter = 0.1  // s, of the instrument's or the control's input
		same   = 0.02 // of the supply, from one place to another
	)
	n, ref, v := len(w.t), w.reference(), w.tr.Feedback.Mean
	next := to
	for next < n && w.d.pol[next] == 0 {
		next++
	}
	long := lapse(w.t[to-1], w.t[from])
	if next >= n-8 || long < least || w.d.pol[from-1] != 0 ||
		lapse(w.t[next], w.t[to-1]) > math.Max(math.Min(wakes, soon*long), 2.5*w.tr.Step) {
		return 0, 0
	}
	unfed := func(int) bool { return false }
	if r := w.tr.Reference; r != nil {
		usual := medianOf32(r.Mean)
		unfed = func(i int) bool { return math.Abs(float64(r.Mean[i])) < 0.95*usual }
		if i := (from + to) / 2; !unfed(i) {
			return 0, 0
		}
	}
	level := func(a, b int) float64 { return medianSmall(filled(v[max(0, a):min(b, n)])) }
	fell := w.t[from]
	for from > 8 && w.d.pol[from-1] == 0 && lapse(fell, w.t[from-1]) < wakes &&
		(float64(v[from-1]) < level(from-6, from-1)-same*ref || unfed(from-1)) {
		from--
	}
	before, rose := level(from-5, from), w.t[to]
	for to < n-8 && lapse(w.t[to], rose) < filter && (math.Abs(float64(v[to])-before) > same*ref || unfed(to)) {
		to++
	}
	if before < aboveNothing*ref || math.Abs(level(to, to+3)-before) > 2*same*ref {
		return 0, 0
	}
	// The last of a fall dies away within the limits above.
	return from - 2, to + 2
}
