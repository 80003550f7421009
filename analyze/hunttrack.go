package analyze

import "math"

// leavesAtOnce tells whether the moves after the stalls of moves [i, j) started
// within two mechanical time constants and the slack of a gear train: behind a
// worn track's end the shaft would first have to come back.
func (w *work) leavesAtOnce(i, j int) bool {
	n, late := 0, 0
	for k := max(i, 1); k < j; k++ {
		if w.moves[k-1].Stalled >= w.lim.StallSeconds && w.moves[k].Moving > 0 {
			n++
			if w.moves[k].Delay > 0.15 {
				late++
			}
		}
	}
	return n > 0 && late == 0
}

// Measures of a hunting that speak for or against the track under it.
const (
	settlesHere   = "times it settled at this end"
	answersAtOnce = "the reading answers at once"
	readingLeaps  = "faster than any shaft"
)

// answers tells whether the reading follows each drive of the moves [i, j), at an
// end each that leads away from it, within two mechanical time constants and the
// slack of a gear train, at the motor's speed and without a leap: behind the end of
// a worn track the shaft would first have to come back, and at it the reading goes
// astray.
func (w *work) answers(i, j int, h Finding) bool {
	end := None
	switch h.Form {
	case huntLowEnd:
		end = Down
	case huntHighEnd:
		end = Up
	}
	n := 0
	for k := i; k < j; k++ {
		m := &w.moves[k]
		if m.Direction == end {
			continue
		}
		r := w.rate[side(m.Direction)]
		due := r * (m.Duration() - 0.15)
		if due < 2*w.visible() {
			continue
		}
		lo, hi := extremes(w.v[m.first:m.last])
		if m.Delay > 0.15+2*w.tr.Step || m.Travel() < 0.5*due || hi-lo > 1.5*r*m.Duration()+2*w.tol {
			return false
		}
		n++
	}
	// No move is long enough to show it by itself.
	return n >= 2 || n == 0 && w.swingsAlong(i, j)
}

// settledHere counts the times the shaft came to rest at the end of the hunting
// without any: from afar, in one drive, and the next drive led away again.
func (w *work) settledHere(h Finding) int {
	s := w.span
	toward := Up
	if h.Form == huntLowEnd {
		toward = Down
	} else if h.Form != huntHighEnd {
		return 0
	}
	n := 0
	for k := range w.moves {
		m := &w.moves[k]
		near := (m.End - s.From) / s.Width()
		if m.Direction != toward || h.Time.Overlaps(m.Time) || toward == Up && near < 0.9 || toward == Down && near > 0.1 || math.Abs(m.Travel()) < 0.3*s.Width() {
			continue
		}
		if k+1 == len(w.moves) || w.moves[k+1].Direction == -toward && math.Abs(w.moves[k+1].Travel()) > 0.3*s.Width() {
			n++
		}
	}
	return n
}

// settles tells whether the shaft came to rest, without reversing, at the end
// away from the hunting: the drive ended there and stayed off, or the next
// move went the other way over most of the span.
func (w *work) settles(h Finding) MeasureName {
	s := w.span
	if s.Width() <= 0 || h.Form == huntMidTravel || h.Form == huntUnknown {
		return ""
	}
	other := Down
	if h.Form == huntLowEnd {
		other = Up
	}
	came := false
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != other || h.Time.Overlaps(m.Time) {
			continue
		}
		near := (m.End - s.From) / s.Width()
		if other == Up && near < 0.75 || other == Down && near > 0.25 {
			continue
		}
		lo, hi := w.tracked(m)
		if hi-lo < 0.3*s.Width() {
			continue
		}
		came = true
		rest := w.t[len(w.t)-1] - m.Time.To
		if k+1 < len(w.moves) {
			rest = w.moves[k+1].Time.From - m.Time.To
		}
		if rest >= 0.5 {
			return otherEndSettles
		}
	}
	if came {
		return ""
	}
	return "the other end was not visited"
}

// heardBeyond tells whether the end near which moves [h.from, h.to) hunt lies well beyond
// them, and the reading led to it and back: where the shaft stood at that stop twice, as far
// beyond the hunting as a control aims short of a stop (a tenth of the travel: common
// practice, no source) and twice the swing, without a place of the track that fails, the
// sensor tells that end well enough.
func (w *work) heardBeyond(f *Finding, h toAndFro) bool {
	end, s := None, w.span
	switch f.Form {
	case huntLowEnd:
		end = Down
	case huntHighEnd:
		end = Up
	default:
		return false
	}
	for i := range w.found {
		if k := w.found[i].Kind; (k == DeadSpot || k == NoisyTrack || k == EndLoss) && w.found[i].Strength > 0.3 {
			return false
		}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for k := h.from + 1; k < h.to; k++ {
		a, b := extremes(w.v[w.moves[k].first:w.moves[k].last])
		lo, hi = math.Min(lo, a), math.Max(hi, b)
	}
	clear := math.Max(0.1*s.Width(), 2*(hi-lo))
	stood := 0
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != end || m.Stalled < w.lim.StallSeconds || h.from <= k && k < h.to {
			continue
		}
		if end == Up && m.End > hi+clear || end == Down && m.End < lo-clear {
			stood++
		}
	}
	return stood >= 2
}
