package analyze

import "math"

// afterShortRests gives the steps at the switchings of drives that last, of which those
// alone count as clear that a shaft still on its way, either way, cannot have made: it need
// not have come to rest in rests as short as a hand makes that turns a switch over. Drives
// that do not last are those of a control that hunts, and of the reading's own leaps.
func (w *work) afterShortRests(all []driveStep) (out []driveStep) {
	for _, s := range all {
		if w.moves[s.move].Duration() < lastingDrive {
			continue
		}
		s.clear = s.clear && math.Abs(s.size) > s.need
		out = append(out, s)
	}
	return out
}
