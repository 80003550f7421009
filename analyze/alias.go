package analyze

import "math"

// levelAliased takes the drive of each move as its mean over the whole move
// where rows come too seldom for its pulses: then the local mean beats with
// the sampling (two rows a pulse give half the volts for a while and all of
// them for another), and the motor knows nothing of it. The shaft tells: its
// speed follows the volts, so over the volts it is steadier than by itself, and
// where it is steadier by itself, by half, the volts are not what drove it.
func (w *work) levelAliased() {
	if w.tr.DriveIsPolarity || !w.d.pulsed || w.window == 0 {
		return
	}
	var plain, over, volts []float64 // deviations of logarithms within each move
	for k := range w.moves {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		if r == 0 || m.last-m.first < 4*w.window {
			continue
		}
		f := w.fit(m)
		var s, g []float64
		for a := 0; a+w.window <= m.last-m.first; a += w.window {
			slope, _, _ := f.line(a, a+w.window)
			drive := 0.0
			for i := a; i < a+w.window; i++ {
				drive += math.Abs(w.d.mean[m.first+i]) / float64(w.window)
			}
			// What stands or leaps says nothing of the motor's speed.
			if x := slope * float64(m.Direction); x > 0.25*r && x < w.lim.Fast*r && drive > 0 {
				s, g = append(s, math.Log(x)), append(g, math.Log(drive))
			}
		}
		if len(s) < 4 {
			continue
		}
		q := make([]float64, len(s))
		for i := range s {
			q[i] = s[i] - g[i]
		}
		plain, over, volts = append(plain, fromMedian(s)...), append(over, fromMedian(q)...), append(volts, fromMedian(g)...)
	}
	// A tenth is what the duty of a pulse train of ten rows a pulse is known to.
	if len(plain) < 12 || mean(volts) < 0.1 || mean(over) < 1.5*mean(plain) {
		return
	}
	for k := range w.moves {
		m := &w.moves[k]
		for i := m.first; i < m.last; i++ {
			w.d.mean[i] = m.DriveMean
		}
	}
	w.notes = append(w.notes, "the drive's pulses are too short for the rows: each move counts with its mean drive")
}

// fromMedian is how far each value lies from the median, unsigned.
func fromMedian(x []float64) []float64 {
	m := medianOf(x)
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = math.Abs(v - m)
	}
	return out
}
