package analyze

import (
	"fmt"
	"math"
)

// mostOfOthers is the share of its volts that other loads of a car take from a feed that is
// sound: a blower, a heated window, doors that run at the same time bring it from a
// generator's 14.4 V to a loaded battery's 11 V or so (common practice, no source). More
// than that, in spells of its own, is a feed that gives way.
const mostOfOthers = 0.25

// othersLoad tells whether a logged supply gives way to something else than this motor: no
// resistance in its feed lets through one time what it takes the next. Either most starts,
// most of the running and most of the time in which it is held, each by itself, cost less
// than a third of the drop (its load differs by more than that from place to place hardly
// ever), or most drives cost nothing and the supply goes down half as far with the motor off.
func (w *work) othersLoad(s *supplyUnderLoad) bool {
	if s.drop >= mostOfOthers || s.level < lowestSupply {
		return false
	}
	if 2*s.seen < s.drives && w.restsLow(s) {
		return true
	}
	asked := false
	for _, loss := range w.supplyLosses(s.rest) {
		if len(loss) > 0 {
			asked = true
			if !(medianOf(loss) < s.drop/3) {
				return false
			}
		}
	}
	return asked
}

// restsLow tells whether the supply lies lower by half of the drop, for a third of a second
// at least, while the motor is off and stands.
func (w *work) restsLow(s *supplyUnderLoad) bool {
	low := 0
	for _, g := range w.resting() {
		for _, x := range w.tr.Supply.Mean[g.first:g.last] {
			if float64(x) < (1-s.drop/2)*s.rest {
				low++
			}
		}
	}
	return low > w.rows(0.3)
}

// supplyLosses is what the supply has lost of its level at rest, as a share, at each start
// (the most of it), in each row in which the shaft runs, and in each in which it is driven
// and does not.
func (w *work) supplyLosses(rest float64) (losses [3][]float64) {
	const start = 0.1 // s, of a motor's inrush (common practice, no source)
	runs := make([]bool, len(w.t))
	for _, g := range w.running() {
		for i := g.first; i < g.last; i++ {
			runs[i] = true
		}
	}
	n := max(1, w.rows(start))
	for a := 0; a < len(w.t); {
		b := a + 1
		for b < len(w.t) && w.d.pol[b] == w.d.pol[a] {
			b++
		}
		if w.d.pol[a] != 0 && b-a > n {
			most := math.Inf(-1)
			for i := a; i < b; i++ {
				loss := 1 - float64(w.tr.Supply.Mean[i])/rest
				switch {
				case math.IsNaN(loss):
				case i < a+n:
					most = math.Max(most, loss)
				case runs[i]:
					losses[1] = append(losses[1], loss)
				default:
					losses[2] = append(losses[2], loss)
				}
			}
			if a > 0 && !math.IsInf(most, -1) {
				losses[0] = append(losses[0], most)
			}
		}
		a = b
	}
	return losses
}

// othersLoadNote says what a supply does that gives way to something else.
func (s *supplyUnderLoad) othersLoadNote() string {
	return fmt.Sprintf("the supply falls to %.1f V for part of the time and not with this motor: most of its starts, its running and its stalls leave it up; another load on the same feed does that, the actuator would do it each time", s.lowest)
}
