package analyze

import "math"

// rippleShares are the distances, as shares of a usual travel, over which a shaft's
// speed is compared with its speed just after: longer than an even shaft's grain,
// shorter than the bands in which a door is heavier.
func rippleShares() [2]float64 { return [2]float64{0.02, 0.04} }

// rippled is a swing above which it matters whether a clock made it.
const rippled = 0.2

// leastRipple is how many such pairs of stretches tell it: of n differences the
// standard deviation is known to one in sqrt(2n), a ninth of it here.
const leastRipple = 40

// fullyDriven is the share of the full drive that a move of steady drive has on the
// average: less is pulsed, or turned down.
const fullyDriven = 0.9

// ripple is how unevenly the shaft runs: the rms difference of its ways over two
// neighbouring stretches, over the way of one. The noise of the reading at rest is
// taken off. NaN where it is not known.
func (w *work) ripple() (out [2]float64) {
	out = [2]float64{math.NaN(), math.NaN()}
	if w.sense == 0 || w.noPolarity != "" || w.looseAtRest() || w.textured() {
		return out
	}
	for i, share := range rippleShares() {
		uneven, ways, n := 0.0, 0.0, 0
		for k := range w.moves {
			m := &w.moves[k]
			r := w.rate[side(m.Direction)]
			// Drive that is switched shakes the shaft by itself.
			if m.Direction == None || m.Moving < 0.5 || r == 0 || math.Abs(m.DriveMean) < fullyDriven*w.d.amp {
				continue
			}
			lag := max(1, int(share*w.usualTravel()/(r*w.tr.Step)+0.5))
			from, to := m.way()
			// Neither the start nor the arrival at a stop is even.
			from += lag + int(w.lim.StallSeconds/w.tr.Step)
			to -= lag + int(w.lim.StallSeconds/w.tr.Step) + w.window
			for j := from; j < to; j += max(1, lag/2) {
				if math.Abs(w.gain(m, j-lag)-w.gain(m, j+lag)) > 0.1 || w.t[j+lag]-w.t[j-lag] > 3*float64(lag)*w.tr.Step {
					continue
				}
				d := w.v[j+lag] - 2*w.v[j] + w.v[j-lag]
				way := r * float64(lag) * w.tr.Step
				// A second difference holds six times the noise of one reading, and
				// the twelfth of a converter's step squared as often.
				uneven += d*d - 6*w.noise*w.noise - w.quantum*w.quantum/2
				ways += way * way
				n++
			}
		}
		if n >= leastRipple {
			out[i] = math.Sqrt(math.Max(0, uneven) / ways)
		}
	}
	if (out[0] > rippled || out[1] > rippled) && w.heldByClock() {
		return [2]float64{math.NaN(), math.NaN()}
	}
	return out
}

// way is the first and the last bin of what a move tracked.
func (m *Move) way() (from, to int) {
	for _, s := range m.segs {
		if s.state == track {
			if to == 0 {
				from = s.first
			}
			to = s.last
		}
	}
	return from, to
}
