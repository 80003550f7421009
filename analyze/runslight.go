package analyze

import "math"

// runsLight is the measure of the current in drives that move nothing, over the running
// current the other way, where it is that of a motor that turns.
const runsLight = "current that way over the running current"

// runsLightToward tells whether the motor turns in the drives of a direction that move
// nothing: what it draws there is clear of none, no more than it draws while it runs the
// other way, with the shaft on its gears, and far less than as it starts, which is what it
// draws while it is held. A reading that froze shows the same until the shaft meets a stop:
// the drives must be longer together than any travel takes. share is what it draws over what
// it draws the other way.
func (w *work) runsLightToward(dir Direction) (share float64, ok bool) {
	const upToSpeed = 0.3 // s, and more than such motors take
	if w.tr.Current == nil || w.d.pulsed || !w.driveKnown() {
		return 0, false // driven by fewer volts, a held motor draws less
	}
	in, vain, long := []float64{}, map[int]bool{}, 0.0
	for k := range w.moves {
		if m := &w.moves[k]; m.Direction == dir {
			vain[k] = true
			if a := w.currentWithin(m.Time.From+upToSpeed, m.Time.To); !math.IsNaN(a) {
				in = append(in, a)
				long += m.Duration()
			}
		}
	}
	for _, a := range in {
		if !w.drawsAsRunning(a, -dir, vain) {
			return 0, false
		}
	}
	if len(in) < 2 || long*w.rate[side(-dir)] < w.ref {
		return 0, false
	}
	idle := w.idleCurrent()
	return (medianOf(in) - idle) / (w.runningToward(-dir) - idle), true
}
