package analyze

// grain is the feedback as rows, or as means over blocks of rows.
type grain struct {
	block int // rows in one
	step  float64
	t, v  []float64
	skip  []bool // says nothing about the track
}

// bins gives the blocks [from, to) that lie within a move.
func (g *grain) bins(m *Move) (from, to int) {
	return (m.first + g.block - 1) / g.block, m.last / g.block
}

// rowByRow is the feedback row by row, without what is known to be no noise of the
// track.
func (w *work) rowByRow() grain {
	g := grain{block: 1, step: w.tr.Step, t: w.t, v: w.v}
	// Losses that belong to no place say nothing about the track, and openings
	// at a place have been told.
	g.skip = make([]bool, len(w.v))
	for _, f := range w.found {
		if f.Kind == Dropouts || f.Kind == DeadSpot && f.departs() > 0.1*w.ref || f.Kind == StickSlip && f.Form == springsOn {
			for _, o := range f.Places {
				for i := max(0, indexAt(w.t, o.Time.From)-2); i < len(g.skip) && w.t[i] <= o.Time.To+2*w.tr.Step; i++ {
					g.skip[i] = true
				}
			}
		}
	}
	// Where rows are missing the next reading lies far on, which is no noise.
	for i := 1; i < len(w.t); i++ {
		if w.t[i]-w.t[i-1] > 2*w.tr.Step {
			for b := max(0, i-2); b < min(len(g.skip), i+2); b++ {
				g.skip[b] = true
			}
		}
	}
	// Where motion begins or ends the line has a corner, which is no noise; its
	// place is known to half a rate window.
	for k := range w.moves {
		segs := w.moves[k].segs
		for i := 1; i < len(segs); i++ {
			if pair := segs[i-1].state + segs[i].state; pair == track+still && segs[i].state != segs[i-1].state {
				for b := max(0, segs[i].first-w.window/2-1); b < min(len(g.skip), segs[i].first+w.window/2+2); b++ {
					g.skip[b] = true
				}
			}
		}
	}
	return g
}

// blocks is the feedback in means over n rows: of those only that are wanted, unless that
// is nil.
func (w *work) blocks(rows grain, n int, wanted []bool) grain {
	m := len(w.v) / n
	g := grain{block: n, step: w.tr.Step * float64(n), t: make([]float64, m), v: make([]float64, m), skip: make([]bool, m)}
	for j := range g.v {
		a, b := j*n, (j+1)*n
		for i := a; i < b; i++ {
			g.v[j] += w.v[i] / float64(n)
			g.t[j] += w.t[i] / float64(n)
		}
		// The neighbours count in the second difference.
		for i := max(0, a-n); i < min(len(w.v), b+n); i++ {
			g.skip[j] = g.skip[j] || rows.skip[i] || wanted != nil && !wanted[i]
		}
	}
	return g
}

// evenRunning tells of each bin whether it says nothing but what the track does to
// means over n rows. The slower they are, the more of the shaft's own ways they show: only what tracks
// is left, and openings and stands are left out whole.
func (w *work) evenRunning(n int) []bool {
	track := w.tracks()
	for _, f := range w.found {
		if f.Kind != DeadSpot && f.Kind != Pauses && f.Kind != StickSlip && f.Kind != GearSlip {
			continue
		}
		for _, o := range f.Places {
			for i := max(0, indexAt(w.t, o.Time.From)-n); i < len(w.t) && w.t[i] <= o.Time.To+float64(n)*w.tr.Step; i++ {
				track[i] = false
			}
		}
	}
	return track
}

// tracks tells of each bin whether the reading follows the drive there, away
// from where that begins and ends.
func (w *work) tracks() []bool {
	out := make([]bool, len(w.v))
	edge := w.window/2 + 1
	for k := range w.moves {
		for _, s := range w.moves[k].segs {
			if s.state != track {
				continue
			}
			for i := s.first + edge; i < min(s.last, len(out))-edge; i++ {
				out[i] = true
			}
		}
	}
	return out
}

// told tells whether a noisy stretch or a dead spot was found already that
// meets a band.
func (w *work) told(band Interval) bool {
	for _, f := range w.found {
		if (f.Kind == NoisyTrack || f.Kind == DeadSpot && f.Form != openBeyond) && f.Volts.From < band.To && f.Volts.To > band.From {
			return true
		}
	}
	return false
}
