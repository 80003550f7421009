package analyze

import "math"

// mostHeld is how far a head may seem to be held, where 1 is wholly: a tenth is what the
// current changes within a window, as for [oneResistance].
const mostHeld = 1.1

// shareOfLift says of each step of the current what share of the lift the reading shows.
// What the current lifts is the foot of the track, whose head a regulator may hold where it
// is: then a wiper at the share x of its supply shows 1-x of the lift, and all of it where
// the head goes up too. The lower and the upper half of the readings tell what it is, from
// the one to the other; beyond these lies no such law.
func (w *work) shareOfLift(steps []currentStep, levels Interval) {
	if !w.refSure || !(levels.To < w.ref) {
		return
	}
	var ohms, at [2][]float64
	for i := range steps {
		s := &steps[i]
		if !s.clear() || s.ohms() < 0 {
			continue
		}
		half := 0
		if s.level > levels.From+levels.Width()/2 {
			half = 1
		}
		ohms[half], at[half] = append(ohms[half], s.ohms()), append(at[half], s.level/w.ref)
	}
	if len(ohms[0]) == 0 || len(ohms[1]) == 0 {
		return
	}
	k, lower, upper := medianOf(ohms[1])/medianOf(ohms[0]), medianOf(at[0]), medianOf(at[1])
	if k >= 1 {
		return
	}
	held := (1 - k) / (upper - k*lower) // from (1 - held upper) / (1 - held lower) = k
	if held > mostHeld {
		return
	}
	held = math.Min(1, held)
	for i := range steps {
		steps[i].shows = 1 - held*math.Max(0, steps[i].level/w.ref)
	}
}
