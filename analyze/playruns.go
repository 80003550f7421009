package analyze

import "math"

// heldThenRuns tells of few reversals, of one as well, by the motor's current that the gears
// have play: at the end of the drive before the motor was held at its stop, and after the
// reversal it turned, on no more than it takes to run, while the reading waited for longer than
// any start takes and than gears in order have. A track that ends before the stop lets the
// motor run on after the reading on arriving as long as on leaving; a reading that comes late
// behind the current comes as late on arriving; a wound-up stop holds the motor little by
// little. So what passed between reading and current on arriving, one first or the other, is
// taken off.
func (p *playSearch) heldThenRuns() bool {
	run, held := p.runningCurrent(), p.blockedCurrent(nil)
	if len(p.places) == 0 || p.abrupt < len(p.lost) || p.slows > 0 || !p.driveKnown() || !(run < letsGoBelow*held) {
		return false
	}
	turns := (run + letsGoBelow*held) / 2
	for _, r := range p.places {
		m := p.moveFrom(r.Time.From)
		if m < 1 || p.moves[m-1].Direction != -r.Direction {
			return false
		}
		apart, ok := p.arrivedApart(&p.moves[m-1], turns)
		amps := p.currentWithin(r.Time.Mid(), r.Time.To)
		// Below half of the running current it may be broken off.
		if !ok || !(amps > run/2 && amps < turns) {
			return false
		}
		rate := p.rate[side(r.Direction)]
		unseen := r.Time.Width() - apart - 2*deadTime
		if unseen < 0 || (r.Time.Width()-apart)*rate < 2*mostPlay*math.Max(p.span.Width(), p.leastTravel()) {
			return false
		}
	}
	return true
}

// moveFrom is the move that begins at a time, -1 for none.
func (p *playSearch) moveFrom(at float64) int {
	for k := range p.moves {
		if p.moves[k].Time.From >= at-1e-9 {
			return k
		}
	}
	return -1
}

// arrivedApart is how long, in s, lay between the last moment in which the reading followed a
// drive and the first from which on the motor was held to its end, drawing more than it does
// when it turns; ok is false where it was not held.
func (p *playSearch) arrivedApart(m *Move, turns float64) (apart float64, ok bool) {
	stood := math.NaN()
	for _, g := range m.segs {
		if g.state == track {
			stood = p.t[min(g.last, len(p.t)-1)]
		}
	}
	amps := movingMean(p.unsignedAmps(), p.rows(0.05)|1)
	end := m.last
	for end > m.first && math.Abs(p.d.mean[end-1]) < turnedDown*p.d.amp {
		end-- // the last row's drive is on its way down
	}
	from := end
	for from > m.first && amps[from-1] > turns {
		from--
	}
	if from >= end || end-from < 3 || math.IsNaN(stood) {
		return 0, false
	}
	return math.Abs(p.t[from] - stood), true
}

// unsignedAmps is the size of the current, row by row.
func (w *work) unsignedAmps() []float64 {
	amps := make([]float64, len(w.t))
	for i := range amps {
		amps[i] = math.Abs(float64(w.tr.Current.Mean[i]))
	}
	return amps
}
