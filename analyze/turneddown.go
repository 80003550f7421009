package analyze

import "math"

// meantToStand tells whether the drive's own form accounts for a stand: then nothing is in
// the way.
func (w *work) meantToStand(s stall) bool {
	return w.letDown(s) || w.turnedDownTo(s) || w.nextPulseGoesOn(s) || w.landsSoftly(s)
}

// turnedDownTo tells whether the control had turned the drive down on the way to a stand by
// so much that the shaft was to stand there by itself. A motor's speed under a load falls
// with its volts along a straight line, V = V0 + k n, and it stands at V0, which is the
// load's (load torque times resistance over the torque constant). The move itself shows
// that line, where its volts had come down by a tenth or more before the stand: if it leads
// to no speed at the volts of the stand, nothing but the control brought the shaft to it.
// An obstacle stops a shaft that by the volts would have gone on. Where another move goes
// at no more volts than those of the stand, these were enough.
func (w *work) turnedDownTo(s stall) bool {
	m := &w.moves[s.move]
	if !w.driveKnown() || w.window == 0 || s.at-m.Time.From < 3*restAfter {
		return false // without a rate nothing tells how fast its volts would take it
	}
	dir := m.Direction
	full := w.steadyDrive()
	a, b := indexAt(w.t, s.at), indexAt(w.t, s.at+s.seconds)
	if b <= a {
		return false
	}
	stand := mean(full[a:b])
	at, ok := w.speedTurnedDown(m, indexAt(w.t, m.Time.From+restAfter), a, stand)
	usual := w.rate[side(dir)]
	return ok && at < w.lim.Still*usual*stand/w.d.amp && !w.goesAt(stand, s, dir)
}

// speedTurnedDown is the speed, V/s, to which the straight line of rows [first, last) of a move
// leads at volts that the drive was turned down to; false where these rows show no such line.
func (w *work) speedTurnedDown(m *Move, first, last int, stand float64) (at float64, ok bool) {
	const tenth = 0.1 // of full drive: less may be the supply that gives
	volts, speed := w.speedsByVolts(m, first, last)
	if len(volts) < 4 {
		return 0, false
	}
	if lo, hi := extremes(volts); hi-lo < tenth*w.d.amp || stand > lo+(hi-lo)/4 {
		return 0, false // not turned down, or turned up again
	}
	slope, _ := straightLine(volts, speed)
	return mean(speed) + slope*(stand-mean(volts)), slope > 0
}

// barelyDriven tells whether a stand under way comes where the control had turned the drive down to
// hardly more than the load takes: by the line of the move's volts and speeds
// ([work.speedTurnedDown]) less than a quarter of the usual speed is left. At rest, friction
// takes up to half as much again as under way, so a shaft that creeps holds now and then by
// itself, and a place at which it did so is only where the control wanted it.
func (w *work) barelyDriven(e *event) bool {
	m := &w.moves[e.move]
	if !w.driveKnown() || m.Direction == None || w.window == 0 {
		return false
	}
	at, ok := w.speedTurnedDown(m, m.first, e.first, mean(w.steadyDrive()[e.first:e.last]))
	return ok && at < w.rate[side(m.Direction)]/4
}

// landsSoftly tells whether a stand is where a drive of which only the polarity was logged was
// let down to nothing: over the last of its way, as long as a rate is taken from, the shaft
// makes less than half of its usual speed, stands for less than half a second before the
// drive ends, and stands at that place in no other drive of the direction. A control that has met something pushes on for longer and tries again,
// and without its volts nothing else tells the two apart: such a stand says nothing.
func (w *work) landsSoftly(s stall) bool {
	const longest = 0.5 // s
	m := &w.moves[s.move]
	last := indexAt(w.t, s.at)
	first := last - w.window
	usual := w.rate[side(m.Direction)]
	if w.driveKnown() || m.Direction == None || first < m.first || s.seconds > longest || lapse(m.Time.To, s.at+s.seconds) > longest/2 {
		return false
	}
	for _, x := range w.stallsOf() {
		if x.move != s.move && w.moves[x.move].Direction == m.Direction && math.Abs(x.level-s.level) < w.stallsApart() {
			return false
		}
	}
	slope, _ := straightLine(w.t[first:last], w.v[first:last])
	return float64(m.Direction)*slope < usual/2
}

// speedsByVolts are the mean unsigned volts and the speed the way it is driven, V/s, of the
// stretches of one rate window each in rows [first, last) of a move.
func (w *work) speedsByVolts(m *Move, first, last int) (volts, speed []float64) {
	full := w.steadyDrive()
	for i := first; i+w.window <= last; i += w.window {
		slope, _ := straightLine(w.t[i:i+w.window], w.v[i:i+w.window])
		volts = append(volts, mean(full[i:i+w.window]))
		speed = append(speed, float64(m.Direction)*slope)
	}
	return volts, speed
}

// goesAt tells whether any other stretch driven in a direction, away from the stand, goes at
// no more volts than those, V: then they are enough to go on.
func (w *work) goesAt(volts float64, s stall, dir Direction) bool {
	full, usual := w.steadyDrive(), w.rate[side(dir)]
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir || k == s.move {
			continue
		}
		for i := indexAt(w.t, m.Time.From+restAfter); i+w.window <= m.last; i += w.window {
			if v := mean(full[i : i+w.window]); v <= volts && v > w.lim.DriveOn*w.d.amp {
				if slope, _ := straightLine(w.t[i:i+w.window], w.v[i:i+w.window]); float64(dir)*slope > usual*v/w.d.amp/2 {
					return true
				}
			}
		}
	}
	return false
}

// nextPulseGoesOn tells whether a stand is one step of a drive that is given in pulses: no
// longer than the pulses and their pauses are, and got on from by the next one. At each of
// them the motor runs up anew, and the reading's filter lags behind it; what stands in
// the way is still there a pulse later.
func (w *work) nextPulseGoesOn(s stall) bool {
	k := s.move + 1
	if k >= len(w.moves) {
		return false
	}
	m, next := &w.moves[s.move], &w.moves[k]
	pause := lapse(next.Time.From, m.Time.To)
	if next.Direction != m.Direction || s.seconds > 2*pause || pause > restAfter {
		return false
	}
	to := min(next.last+w.rows(pause), len(w.v))
	from := max(next.first, to-max(1, w.rows(pause/2)))
	// The median of n readings has 1.25 times the error of their mean.
	reach, err := medianOf(w.v[from:to]), 1.25*w.noise/math.Sqrt(float64(to-from))
	return float64(m.Direction)*(reach-s.level) > math.Max(w.visible(), 3*err)
}
