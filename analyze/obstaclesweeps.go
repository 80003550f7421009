package analyze

import "math"

// sweepsToObstacle tells whether moves [i, j), each the other way than the one before, are
// sweeps of what an obstacle leaves of the travel, and no hunting: one way all end at a
// stop of the actuator, the other way at one place, where most stand before the drive is
// turned over, and beyond which the shaft had gone before. What hunts turns over under way,
// about a place it seeks; what sweeps by stands turns over because the shaft stands.
func (w *work) sweepsToObstacle(i, j int) bool {
	const (
		times  = 3    // ends at the place, as of a stall at one place
		mostly = 0.5  // of them stand: half a stand may hide in the noise
		beyond = 0.05 // of the span, past any give of a stop (chosen, not derived)
	)
	near := w.stallsApart()
	for _, s := range w.stops {
		dir := -s.Direction // towards the obstacle
		var ends []float64
		stood, ok := 0, s.Extreme
		for k := i; k < j && ok; k++ {
			m := &w.moves[k]
			if m.Direction != dir {
				ok = math.Abs(m.End-s.Level) < near
				continue
			}
			ends = append(ends, m.End)
			if m.Stalled > w.lim.StallSeconds {
				stood++
			}
		}
		if !ok || len(ends) < times || float64(stood) < mostly*float64(len(ends)) {
			continue
		}
		lo, hi := extremes(ends)
		past := func(m *Move) bool {
			return float64(dir)*(m.End-medianOf(ends)) > near+beyond*w.span.Width()
		}
		if hi-lo > near {
			continue
		}
		for k := range i {
			if past(&w.moves[k]) {
				return true
			}
		}
	}
	return false
}
