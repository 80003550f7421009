package analyze

import "math"

// wildRuns lists the stretches in which the reading, from one row to the next, again
// and again steps further than a shaft goes, to both sides and at rest as well, and
// which end only where the reading is seen to follow a drive again. A wiper that
// rests on a worn part of its track keeps one wrong reading for a while and then
// takes another: about such a reading there is no scatter that [work.storms] could
// see, and a lull at rest does not tell that the contact is good.
func (w *work) wildRuns() []storm {
	const least = 3 // steps: one or two are those of a place that is passed
	var out []storm
	var r wildRun
	rests := 0
	end := func() {
		if r.up+r.down >= least && 4*min(r.up, r.down) >= r.up+r.down {
			out = append(out, storm{first: r.first, last: r.last + 1, in: w.wildEdge(r.first, -1), out: w.wildEdge(r.last, 1)})
			rests += r.rests
		}
	}
	for i := 1; i < len(w.raw); i++ {
		step := w.raw[i] - w.raw[i-1]
		if math.Abs(step) <= w.wildStep(i) {
			continue
		}
		if r.up+r.down > 0 && w.followed(r.last, i) {
			end()
			r = wildRun{}
		}
		r.add(i, step, w.atRest(i))
	}
	end()
	if rests < 2 {
		return nil // what is thrown about under drive only may be the motor's doing
	}
	return out
}

// wildRun counts the steps of one stretch of wildRuns.
type wildRun struct {
	first, last     int // bins of the first and the last step
	up, down, rests int // steps to either side, and those at rest
}

func (r *wildRun) add(bin int, step float64, rest bool) {
	if r.up+r.down == 0 {
		r.first = bin
	}
	r.last = bin
	if step > 0 {
		r.up++
	} else {
		r.down++
	}
	if rest {
		r.rests++
	}
}

// wildStep is a step to a bin that is no shaft's: past the noise of two rows, what a
// lost signal is off at least, and twice the way of the fastest drive.
func (w *work) wildStep(bin int) float64 {
	went := math.Max(w.rate[0], w.rate[1]) * (w.t[bin] - w.t[bin-1])
	return math.Max(leastLoss*w.ref, 2*w.tol) + 2*went
}

// atRest tells whether nothing drives at a bin and the shaft has run out.
func (w *work) atRest(bin int) bool {
	if w.d.pol[bin] != 0 {
		return false
	}
	k := w.moveBefore(bin)
	return k < 0 || lapse(w.t[bin], w.moves[k].Time.To) > restAfter
}

// moveBefore is the last move that begins before a bin, -1 for none.
func (w *work) moveBefore(bin int) int {
	k := -1
	for k+1 < len(w.moves) && w.moves[k+1].first < bin {
		k++
	}
	return k
}

// followed tells whether, between two bins, the reading goes on with a drive as a
// shaft does: over a twentieth of the span (chosen, not derived: more than pulses
// of a hunting control go) and four rows, at a third or less off the usual rate.
func (w *work) followed(from, to int) bool {
	for k := range w.moves {
		m := &w.moves[k]
		a, b := max(m.first, from), min(m.last, to)-1
		if b-a < 4 || m.Direction == None {
			continue
		}
		went := w.rate[side(m.Direction)] * (w.t[b] - w.t[a])
		read := float64(m.Direction) * (w.raw[b] - w.raw[a])
		if went > math.Max(0.05*w.span.Width(), 2*w.tol) && math.Abs(read-went) < went/3 {
			return true
		}
	}
	return false
}

// wildEdge tells where the shaft was when a run began (way -1) or ended (1) with the
// step to a bin. The readings in the run are wrong, also those that step less: the
// place is that of the nearest rows beyond it that go on with the drive.
func (w *work) wildEdge(bin, way int) edgeOfStorm {
	if w.atRest(bin) {
		if way > 0 && !w.followed(bin, len(w.raw)) {
			return edgeOfStorm{} // the capture ends in it
		}
		return edgeOfStorm{level: w.raw[bin], known: true}
	}
	k := w.moveBefore(bin)
	if k < 0 || w.moves[k].Direction == None {
		return edgeOfStorm{}
	}
	m := &w.moves[k]
	const rows = 5 // on one line: three are there by chance too often
	a := bin
	if way < 0 {
		a = bin - rows
	}
	for ; a >= m.first && a+rows <= m.last; a += way {
		if !w.runsEvenly(m, a, a+rows) {
			continue
		}
		if way < 0 {
			return edgeOfStorm{level: w.raw[a+rows-1], dir: m.Direction, known: true}
		}
		return edgeOfStorm{level: w.raw[a], dir: m.Direction, known: true}
	}
	return edgeOfStorm{}
}

// runsEvenly tells whether the rows of a move lie on one line, by less than half the way
// of a row or the noise, at a third or less off the usual rate.
func (w *work) runsEvenly(m *Move, from, to int) bool {
	usual := float64(m.Direction) * w.rate[side(m.Direction)]
	rate := (w.raw[to-1] - w.raw[from]) / (w.t[to-1] - w.t[from])
	if math.Abs(rate-usual) > math.Abs(usual)/3+2*w.tol/(w.t[to-1]-w.t[from]) {
		return false
	}
	for i := from; i < to; i++ {
		off := w.raw[i] - w.raw[from] - rate*(w.t[i]-w.t[from])
		if math.Abs(off) > math.Max(2*w.tol, math.Abs(usual)*w.tr.Step/2) {
			return false
		}
	}
	return true
}
