package signal

import "math"

// Piece is the trace from bin a up to, and without, bin b as a capture of its own, at the
// times of the file. Gaps, restarts and remarks are those that lie in it; what the columns
// and the notes say stays that of the file. Its pace is that of the file, for both have one
// instrument. Statistics are those of its own bins: extremes of all rows, but cells are
// counted by bins of RowsPerBin rows, over-range marks as their share of the missing cells
// of the file, and the quantum is the file's, which knows most steps. Nothing is shared that
// is changed; a piece that is empty or no part of the trace is nil.
func (t *Trace) Piece(a, b int) *Trace {
	if a < 0 || b > t.Len() || a >= b {
		return nil
	}
	p := *t.Part(a, b)
	from, to := t.Time[a], t.Time[b-1]
	p.Rows = min(t.Rows, int64(b-a)*int64(t.RowsPerBin))
	p.Gaps, p.Anew, p.Remarks = nil, nil, nil
	for _, g := range t.Gaps {
		if g.From >= from && g.To <= to {
			p.Gaps = append(p.Gaps, g)
		}
	}
	for _, r := range t.Anew {
		if r.Time > from && r.Time <= to {
			p.Anew = append(p.Anew, r)
		}
	}
	for _, m := range t.Remarks {
		if m.Time >= from && m.Time <= to {
			p.Remarks = append(p.Remarks, m)
		}
	}
	all := []*Series{&p.Drive, &p.Feedback}
	for _, s := range p.optional() {
		x := **s
		*s = &x
		all = append(all, &x)
	}
	for _, s := range all {
		s.Stats = s.pieceStats(int64(t.RowsPerBin))
	}
	return &p
}

// pieceStats are the statistics of a series that is a piece of a longer one, whose own it
// still has.
func (s *Series) pieceStats(rowsPerBin int64) Stats {
	whole := s.Stats
	st := Stats{Quantum: whole.Quantum, Min: math.NaN(), Max: math.NaN()}
	for i, m := range s.Mean {
		if m != m {
			st.Missing += rowsPerBin
			continue
		}
		st.Valid += rowsPerBin
		lo, hi := float64(s.Min[i]), float64(s.Max[i])
		if !(lo >= st.Min) {
			st.Min, st.AtMin = lo, 0
		}
		if !(hi <= st.Max) {
			st.Max, st.AtMax = hi, 0
		}
		if lo == st.Min {
			st.AtMin++
		}
		if hi == st.Max {
			st.AtMax++
		}
	}
	if whole.Missing > 0 {
		st.Over = int64(math.Round(float64(st.Missing) * float64(whole.Over) / float64(whole.Missing)))
	}
	return st
}
