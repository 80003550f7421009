package analyze

import "math"

// dropGenerated takes out moves that are no drive: a motor that coasts on, or
// that a wound-up gear train turns back, makes a voltage of its own. Where one
// polarity never comes near the other's drive and always follows right upon
// its end, it is that.
func (w *work) dropGenerated(moves []Move) []Move {
	if w.tr.DriveIsPolarity {
		return moves
	}
	const least = 0.6 // of the other polarity's drive; the motor gives back less
	for _, own := range []int8{-1, 1} {
		n, peak := 0, 0.0
		follows := true
		for k := range moves {
			m := &moves[k]
			if m.Polarity != own {
				continue
			}
			n++
			// The first row or two may hold part of the edge.
			for i := m.first + 1; i < m.last; i++ {
				peak = math.Max(peak, math.Abs(w.d.mean[i]))
			}
			follows = follows && k > 0 && moves[k-1].Polarity == -own && m.Time.From-moves[k-1].Time.To < math.Max(0.2, 2.5*w.tr.Step) && m.Duration() < 0.6
		}
		if n == 0 || n == len(moves) || !follows || peak >= least*w.d.amp {
			continue
		}
		var out []Move
		for _, m := range moves {
			if m.Polarity == own {
				for i := m.first; i < m.last; i++ {
					w.d.pol[i] = 0
				}
				continue
			}
			out = append(out, m)
		}
		return out
	}
	return moves
}
