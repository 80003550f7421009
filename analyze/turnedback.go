package analyze

import "math"

// Where the gears let go for longer, or the door winds the shaft back slowly, the reading
// turns and comes back against a constant drive over many rows, then climbs again at the
// motor's own pace. Nothing sound does so: what coasts does it once, right after a
// reversal, and play is a few percent of the travel.

// findTurnedBack adds the falls of that kind, where there are several.
func (w *work) findTurnedBack(height float64) {
	if w.sense == 0 || len(w.rockings) > 0 {
		return
	}
	height = math.Max(height, mostPlay*w.span.Width())
	var out []rocking
	for k := range w.moves {
		out = append(out, w.turnedBackIn(k, height)...)
	}
	if len(out) >= leastFalls {
		w.rockings = append(w.rockings, out...)
	}
}

// turnedBackIn lists those of one drive, in order.
func (w *work) turnedBackIn(move int, height float64) (out []rocking) {
	m := &w.moves[move]
	r := w.rate[side(m.Direction)]
	if m.Direction == None || r <= 0 || w.pulsedIn(m.first, m.last) {
		return nil
	}
	a := m.first
	for a < m.last && lapse(w.t[a], w.t[m.first]) < w.lim.StallSeconds {
		a++
	}
	s := zigzag(w.v, a, m.last, float64(m.Direction), height)
	for q := 1; q < len(s); q++ {
		back := -s[q].rise
		if back < height {
			continue
		}
		after := swing{s[q].to, m.last - 1, 0} // to the end of the drive, or to the next
		if q+1 < len(s) {
			after = s[q+1]
		}
		if w.motorsPace(s[q-1], back, r, m.Direction) && w.motorsPace(after, back/2, r, m.Direction) && !w.backOnLine(s[q].from, after.to, r, m.Direction) {
			out = append(out, rocking{first: s[q].from, last: s[q].to + 1, falls: []fall{{move, s[q].from, back}}})
		}
	}
	return out
}

// backOnLine tells whether a reading that went back from a row on is soon where the motor
// has turned the shaft to meanwhile: then the shaft never went back, the track lost it.
func (w *work) backOnLine(from, to int, rate float64, dir Direction) bool {
	regained := from + 1
	for regained < to && float64(dir)*(w.v[regained]-w.v[from]) <= 0 {
		regained++
	}
	end := min(to, regained+setbackRows)
	ahead := float64(dir) * (medianSmall(w.v[regained:end+1]) - w.v[from])
	return ahead > rate*lapse(w.t[regained], w.t[from])/2
}

// motorsPace tells whether the reading climbs over a swing by so much at least, at the
// pace of the motor: faster, it is a reading that was away and comes back to its line.
func (w *work) motorsPace(x swing, least, rate float64, dir Direction) bool {
	const (
		slower = 0.5
		faster = 1.3 // speeds differ along the travel by a quarter (common practice, no source)
	)
	if x.to-x.from < setbackRows {
		return false
	}
	up := float64(dir) * (w.v[x.to] - w.v[x.from])
	pace := up / (w.t[x.to] - w.t[x.from])
	return up >= least && pace > slower*rate && pace < faster*rate
}
