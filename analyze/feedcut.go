package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
	"threewire/signal"
)

// A feedLoss is a stretch in which the reading lies at nothing while nothing is driven, and
// comes back to where it was.
type feedLoss struct {
	from, to int     // bins [from, to), with those on which the feed falls and rises
	long     float64 // s, from the fall to the return
	wait     float64 // s, from the return to the next drive
	unfed    bool    // the logged reference lies at nothing as well
	last     bool    // no drive comes after it
}

// feedCuts are the stretches that feedCut takes out, by what tells them.
type feedCuts struct {
	asleep    []signal.Span // by the drives that begin as they end
	key       []signal.Span // by the logged reference
	withDrive []signal.Span // by the drive that was cut in the same instant
}

// withoutFeedCuts leaves the rows out of which feedCut knows, and says so.
func (w *work) withoutFeedCuts(t *signal.Trace) *signal.Trace {
	cuts, ok := w.feedCut()
	if !ok {
		return t
	}
	if x := cuts.asleep; len(x) > 0 {
		w.notes = append(w.notes, fmt.Sprintf("the reading fell to zero %s, %.1f s in all, while nothing was driven, and came back just before the next drive: a control that sleeps switches the sensor's supply off, so these rows were left out; if the control was awake, look for a loose contact", timesText(len(x)), secondsOf(x)))
	}
	if x := cuts.key; len(x) > 0 {
		w.notes = append(w.notes, fmt.Sprintf("the reference and the reading fell to zero %s, %.1f s in all, while nothing was driven, and came back to where they were: so an ignition that is off does, and these rows were left out; if it was on all the time, the reference's lead or plug opens", timesText(len(x)), secondsOf(x)))
	}
	if x := cuts.withDrive; len(x) > 0 {
		w.doubt(DriveCut, fmt.Sprintf("the drive broke off and the reading fell to zero in the same instant %s, %.1f s in all, and the reading came back before anything was driven again: as when the ignition is switched off, so these rows were left out; if it was on, look for a loose contact in the supply of the control", timesText(len(x)), secondsOf(x)))
	}
	return w.tr
}

// feedCut takes the bins out in which a control that sleeps, or an ignition that is off, has
// taken the sensor's supply away, and gives the stretches they took; for those that begin with
// a drive's end see [work.cutWithDrive]. Else nothing is driven, the reading (and the
// logged reference, if there is one) lies at nothing, and both are back where they were
// just as the next drive begins: who drives wakes first. A contact that is loose comes
// back when it likes: that it does so within the last tenth of such a stretch has a chance
// of a tenth, and in several of them the chance is that of all together (Fisher). A
// reference that is gone, once or twice and for as long as a key is turned, in rests only,
// needs no drive to tell it. A loss that begins while the shaft stands is seldom the track's.
func (w *work) feedCut() (cuts feedCuts, ok bool) {
	if w.d.none {
		return cuts, false
	}
	losses, withDrive := w.feedLosses()
	left := make([]bool, len(w.t))
	take := func(list *[]signal.Span, losses []feedLoss) {
		for _, l := range losses {
			for i := l.from; i < l.to; i++ {
				left[i] = true
			}
			*list = append(*list, signal.Span{From: w.t[l.from], To: w.t[l.to-1]})
		}
	}
	take(&cuts.withDrive, withDrive)
	if cut := w.cutBySleep(losses); len(cut) > 0 {
		take(&cuts.asleep, cut)
	} else {
		take(&cuts.key, cutByKey(losses))
	}
	if !slices.Contains(left, true) {
		return cuts, false
	}
	awake := w.tr.Without(left)
	if awake.Len() < max(8, len(w.t)/10) {
		return cuts, false
	}
	w.keep(awake)
	return cuts, true
}

const (
	shortestCut = 0.5 // s, below which a loss is a drop-out
	soonToDrive = 0.1 // of a loss, from the return to the drive
	longestWake = 1.0 // s, likewise: longer than a filter at the control's input takes
)

// cutBySleep gives the losses after which a drive begins as soon as they are over: each by
// itself, or all of three or more.
func (w *work) cutBySleep(losses []feedLoss) []feedLoss {
	var single, all, last []feedLoss
	var chances []float64
	for _, l := range losses {
		if l.last {
			last = append(last, l)
			continue
		}
		if l.wait >= longestWake || l.wait >= l.long {
			continue // the one before the recording ends, or of another kind
		}
		all = append(all, l)
		chances = append(chances, math.Min(1, (l.wait+w.tr.Step)/l.long))
		if l.long >= shortestCut && l.wait <= math.Max(soonToDrive*l.long, 2.5*w.tr.Step) {
			single = append(single, l)
		}
	}
	if len(all) >= 3 && len(all)+len(last) >= len(losses)-1 && stats.FisherCombined(chances...) < 0.01 {
		return append(all, last...)
	}
	if len(single) == 0 {
		return nil
	}
	if len(single) >= 2 {
		// A control takes as long to wake each time.
		for _, l := range all {
			if !slices.Contains(single, l) && math.Abs(l.wait-single[0].wait) <= 2.5*w.tr.Step {
				single = append(single, l)
			}
		}
	}
	return append(single, last...)
}

// cutByKey gives the losses of a capture in which the logged reference is gone as well, once
// or twice and long: a key that is turned. A plug that is loose opens more often, for
// shorter, and above all while something moves.
func cutByKey(losses []feedLoss) []feedLoss {
	if len(losses) == 0 || len(losses) > 2 {
		return nil
	}
	for _, l := range losses {
		if !l.unfed || l.long < shortestCut {
			return nil
		}
	}
	return losses
}

// feedLosses lists the losses of a capture that begin in a rest, and those that begin as a
// drive is cut. A reference that is logged and stays makes none.
func (w *work) feedLosses() (out, withDrive []feedLoss) {
	ref, v := w.reference(), w.tr.Feedback.Mean
	gone := func(i int) bool { return math.Abs(float64(v[i])) < wiperMargin*ref && w.d.pol[i] == 0 }
	for a := 8; a < len(w.t); a++ {
		if !gone(a) {
			continue
		}
		b := a
		for b < len(w.t) && gone(b) {
			b++
		}
		if w.d.pol[a-1] == 0 {
			if l, ok := w.feedLossAround(a, b); ok {
				out = append(out, l)
			}
		} else if b < len(w.t)-8 {
			if from, to := w.cutWithDrive(a, b); to > from {
				withDrive = append(withDrive, feedLoss{from: from, to: to})
			}
		}
		a = b
	}
	return out, withDrive
}

// feedLossAround is the loss about the stretch of nothing over bins [from, to), with the rows
// on which its feed falls and rises.
func (w *work) feedLossAround(from, to int) (l feedLoss, ok bool) {
	const (
		filter = 0.1  // s, of the instrument's or the control's input, or as long as it falls
		same   = 0.02 // of the supply, from one place to another
	)
	n, ref, v := len(w.t), w.reference(), w.tr.Feedback.Mean
	next := to
	for next < n && w.d.pol[next] == 0 {
		next++
	}
	l.last = next >= n-8
	if !l.last {
		l.wait = math.Max(0, lapse(w.t[next], w.t[to-1]))
	}
	unfed := func(int) bool { return false }
	if r := w.tr.Reference; r != nil {
		usual := medianOf32(r.Mean)
		unfed = func(i int) bool { return math.Abs(float64(r.Mean[i])) < 0.95*usual }
		if i := (from + to) / 2; !unfed(i) {
			return l, false
		} else if math.Abs(float64(r.Mean[i])) < wiperMargin*usual {
			l.unfed = true
		}
	}
	level := func(a, b int) float64 { return medianSmall(filled(v[max(0, a):min(b, n)])) }
	lowest := from
	fell := w.t[from]
	for from > 8 && w.d.pol[from-1] == 0 && lapse(fell, w.t[from-1]) < longestWake &&
		(float64(v[from-1]) < level(from-6, from-1)-same*ref || unfed(from-1)) {
		from--
	}
	l.long = lapse(w.t[to-1], w.t[from])
	if to >= n-8 {
		l.from, l.to = from-2, n
		return l, true
	}
	// What falls from a place to a twentieth of the supply in three time constants of a
	// filter is back to a fiftieth in four.
	slow := math.Max(filter, 1.5*lapse(w.t[lowest], w.t[from]))
	before, rose := level(from-5, from), w.t[to]
	for to < n-8 && lapse(w.t[to], rose) < slow && (math.Abs(float64(v[to])-before) > same*ref || unfed(to)) {
		to++
	}
	if before < aboveNothing*ref || math.Abs(level(to, to+3)-before) > 2*same*ref+w.ranSince(next, to) {
		return l, false
	}
	// The last of a fall dies away within the limits above.
	l.from, l.to = from-2, to+2
	return l, true
}

// ranSince is how far in V a shaft may have gone from bin next, in which its drive began, to
// bin to, at the pace it has then.
func (w *work) ranSince(next, to int) float64 {
	if next >= to {
		return 0
	}
	v, t := w.tr.Feedback.Mean, w.t
	on := min(to+w.rows(0.3), len(t)-1)
	if on <= to {
		return 0
	}
	return math.Abs(float64(v[on])-float64(v[to])) / (t[on] - t[to]) * (t[to] - t[next])
}
