package analyze

import (
	"math"
	"slices"
)

// A motor's current goes with its torque: what presses at the end of a way raises it there,
// and what only reads slowly, or is driven more gently, does not.

const (
	// hardNear is where before a stop, as a share of the span, a seal presses hardest and
	// the stop does not yet.
	hardNear = 0.045
	// hardShare is the share of what a motor has left for a load above which a seal takes
	// more than good foam: that costs up to a quarter of the speed, and the speed goes down
	// with the torque in proportion.
	hardShare = 0.35
)

// pressesThere is the measure of the share of the torque that a motor has left while it runs
// which the last of the way into a stop takes.
const pressesThere = "torque taken before that stop, of what is left"

// pressesOnly gives the share of the torque left that is taken before the stop that dir runs
// into, where the current tells it and the other stop takes less than half as much.
func (w *work) pressesOnly(dir Direction) (share float64, ok bool) {
	if w.tr.Current == nil || w.d.pulsed {
		return 0, false
	}
	here, other := w.tookBefore(dir), w.tookBefore(-dir)
	if len(here) < 2 || len(other) == 0 {
		return 0, false
	}
	share = medianOf(here)
	return share, slices.Min(here) > hardShare && 2*slices.Max(other) < slices.Min(here)
}

// tookBefore lists, for the arrivals at the stop that dir runs into, the share of the torque
// left to the running motor that was taken just before it.
func (w *work) tookBefore(dir Direction) (shares []float64) {
	i := slices.IndexFunc(w.stops, func(s Stop) bool { return s.Extreme && s.Direction == dir })
	if i < 0 {
		return nil
	}
	blocked := w.blockedCurrent(nil)
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir || math.Abs(w.stops[i].Level-m.End) > 2*arrivalNear*w.span.Width() || m.Stalled < 2*w.tr.Step {
			continue
		}
		// at is the last time before which the shaft was so far from the stop.
		at := func(share float64) float64 {
			for j := m.last - 1; j > m.first; j-- {
				if float64(dir)*(w.stops[i].Level-w.smooth[j]) > share*w.span.Width() {
					return w.t[j]
				}
			}
			return math.NaN()
		}
		run, near := w.currentWithin(at(arrivalBefore), at(arrivalFar)), w.currentWithin(at(hardNear), at(arrivalNear))
		if x := (near - run) / (blocked - run); blocked > loadShows*run && !math.IsNaN(x) {
			shares = append(shares, x)
		}
	}
	return shares
}
