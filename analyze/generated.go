package analyze

import "math"

// mostGenerated is the share of a drive above which volts of the other polarity are one:
// the motor gives back less.
const mostGenerated = 0.6

// dropGenerated takes out moves that are no drive: a motor that coasts on, or
// that a wound-up gear train turns back, makes a voltage of its own. Where one
// polarity never comes near the other's drive and always follows right upon
// its end, it is that; and so is any move which does, and whose volts do nothing but run
// down: what a pressed stop throws back runs down with the rotor, a drive keeps its level.
func (w *work) dropGenerated(moves []Move) []Move {
	if w.tr.DriveIsPolarity {
		return moves
	}
	moves = w.dropThrownBack(moves)
	for _, own := range []int8{-1, 1} {
		n, peak := 0, 0.0
		follows := true
		for k := range moves {
			m := &moves[k]
			if m.Polarity != own {
				continue
			}
			n++
			peak = math.Max(peak, w.generatedPeak(m))
			follows = follows && k > 0 && w.followsUpon(&moves[k-1], m)
		}
		if n == 0 || n == len(moves) || !follows || peak >= mostGenerated*w.d.amp {
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

// generatedPeak is the most volts of a move; its first row may hold part of the edge.
func (w *work) generatedPeak(m *Move) (peak float64) {
	for i := m.first + 1; i < m.last; i++ {
		peak = math.Max(peak, math.Abs(w.d.mean[i]))
	}
	return peak
}

// followsUpon tells whether a short move follows right upon one of the other polarity, or
// soon, where it draws nothing: who brakes the motor first and then lets go of its leads
// sees what it gives back as late as that.
func (w *work) followsUpon(before, m *Move) bool {
	const brakes = 1.0 // s
	soon := math.Max(0.2, 2.5*w.tr.Step)
	if w.drawsNothing(before, m) {
		soon = brakes
	}
	return before.Polarity == -m.Polarity && m.Time.From-before.Time.To < soon && m.Duration() < 0.6
}

// drawsNothing tells whether a move draws less than a tenth of the current of the one before
// it: with volts enough to be taken for a drive, a motor that is fed draws no less than a
// third of what it draws at full volts, its friction (common practice, no source).
func (w *work) drawsNothing(before, m *Move) bool {
	c := w.tr.Current
	if c == nil {
		return false
	}
	draws := func(m *Move) float64 {
		var amps []float64
		for _, a := range c.Mean[m.first:m.last] {
			if !math.IsNaN(float64(a)) {
				amps = append(amps, math.Abs(float64(a)))
			}
		}
		return medianOf(amps)
	}
	return draws(m) < 0.1*draws(before)
}

// dropThrownBack takes out the moves that follow right upon the other polarity's end and
// whose volts run down from far below a drive's.
func (w *work) dropThrownBack(moves []Move) []Move {
	var out []Move
	for k := range moves {
		m := &moves[k]
		back := k > 0 && w.followsUpon(&moves[k-1], m)
		if back && (w.generatedPeak(m) < mostGenerated*w.d.amp && w.voltsRunDown(m) || w.drawsNothing(&moves[k-1], m) && w.voltsGrow(m)) {
			for i := m.first; i < m.last; i++ {
				w.d.pol[i] = 0
			}
			continue
		}
		out = append(out, *m)
	}
	return out
}

// voltsRunDown tells whether the volts of a move, its edge left out, fall by half or more and
// hardly ever rise on the way: a drive that is let go stays up to its last row.
func (w *work) voltsRunDown(m *Move) bool {
	const (
		rows = 4   // fewer may be one edge and the rows it is spread over
		left = 0.1 // of the top: run down
	)
	top := m.first
	for i := m.first; i < m.last; i++ {
		if math.Abs(w.d.mean[i]) > math.Abs(w.d.mean[top]) {
			top = i
		}
	}
	// Too few volts to be a drive any more, they run down on.
	end := m.last
	for end < len(w.d.mean) && w.d.pol[end] == 0 && w.d.mean[end]*w.d.mean[top] > left*w.d.mean[top]*w.d.mean[top] {
		end++
	}
	if end-top < rows || top-m.first > end-top {
		return false
	}
	// In many rows the noise of each adds up: a dozen levels show the same.
	fall, rise := 0.0, 0.0
	n := max(1, (end-top)/12)
	level := func(i int) float64 { return math.Abs(mean(w.d.mean[i:min(i+n, end)])) }
	for i := top + n; i < end; i += n {
		x := level(i) - level(i-n)
		fall, rise = fall+math.Max(0, -x), rise+math.Max(0, x)
	}
	// As even as a straight line of so many rows: no row takes half of the fall.
	for i := top + 1; i < end; i++ {
		if math.Abs(w.d.mean[i-1])-math.Abs(w.d.mean[i]) > fall/2 {
			return false
		}
	}
	return fall-rise > 0.5*math.Abs(w.d.mean[top]) && rise < 0.2*fall
}

// voltsGrow tells whether the volts of a move come and go by and by, as those of a rotor that
// something turns: what is switched on has its volts within a row or two, also through a
// filter. Whoever raises a drive slowly feeds a current, and is not asked here.
func (w *work) voltsGrow(m *Move) bool {
	const rows, least = 4, 0.04 // rows, and s: more than a filter against hum takes
	peak := w.generatedPeak(m)
	at := func(i int) float64 { return w.d.mean[i] * float64(m.Polarity) }
	high := m.first
	for high < m.last && at(high) < 0.9*peak {
		high++
	}
	low := high
	for low > 0 && at(low) > 0.2*peak {
		low--
	}
	return high-low >= rows && w.t[high]-w.t[low] > least && at(m.last-1) < 0.7*peak
}
