package analyze

import "math"

// leastInVain is how many tries that get no further make a place where there is no way on:
// two may be pulses too short to start the motor.
const leastInVain = 3

// blockedInVain gives the stalls of a direction in which the shaft came up against
// something after so short a way that the arrival alone says nothing, and then tried in
// vain from there three times or more: the first of them, as the stall that is meant, and
// the tries. Earlier it had gone on over the place, so it is no stop; and it leaves the
// other way, so the motor starts there.
func (w *work) blockedInVain(vain []stall, dir Direction, near float64) (short, tries []stall) {
	for i, s := range vain {
		// It came there and stood before the drive ended, by more than noise and a step of
		// the converter can make of nothing.
		if !s.arrived || float64(dir)*(s.level-w.moves[s.move].Start) < w.visible() || !w.fallsShort(s, dir) {
			continue
		}
		tries = tries[:0]
		for _, x := range vain[i+1:] {
			if math.Abs(x.level-s.level) < near {
				tries = append(tries, x)
			}
		}
		if len(tries) >= leastInVain && w.passedBefore(dir, s.level, s.at) && !w.passedAfter(dir, s.level, s.at) && w.leftBackwards(s, dir) {
			return []stall{s}, tries
		}
	}
	return nil, nil
}

// passedBefore tells whether a drive in the direction that ended earlier tracked from
// before the level to clear beyond it.
func (w *work) passedBefore(dir Direction, level, at float64) bool {
	near := w.stallsApart()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir || m.Time.To >= at {
			continue
		}
		lo, hi := w.tracked(m)
		if lo < level-near && hi > level+near {
			return true
		}
	}
	return false
}

// leftBackwards tells whether the first drive the other way after a stall ran off from it.
func (w *work) leftBackwards(s stall, dir Direction) bool {
	for k := s.move + 1; k < len(w.moves); k++ {
		if m := &w.moves[k]; m.Direction == -dir {
			return float64(dir)*(s.level-m.End) > 2*w.visible()
		}
	}
	return false
}
