package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// feedByLoads gives the level of the drive, in V, at which the motor stalls, and the share
// that is lost there of what it gets under way, where the loads under way tell of a feed
// with resistance. By the motor's equations, V = Vs - I*Rs and n = (V - I*R)/Ke, every load
// is a point of one straight line of volts against speed, and the stop is its end, n = 0:
// the line laid through what was seen under way (an over-centre hump, a heavy door up and
// down, grease that thickens) must lead to the volts that were seen there.
//
// A control that turns the drive down slows the shaft as well, but its line, n = (V - I*R)/Ke
// at one load, leads to I*R, [greatestLoad] of the volts at most. A bench supply at its
// current limit has no line. A sound feed has a short one: a bridge and wires of 1 to 3 ohm
// before a motor of 24 ohm (half an ampere against a stop) take 4 to 11 % of the volts there
// and a fifth of that under way ([usualLoad]), 3 to 9 % between the two; [sagOfDrive] is more.
func (w *work) feedByLoads() (level, drop float64, ok bool) {
	const (
		sure   = 4              // standard errors by which the line must slope: not by chance in any capture
		agrees = 2              // standard errors, and then
		within = sagOfDrive / 2 // of the volts under way: nearer to the stop's than to none lost
	)
	if !w.driveKnown() || w.d.pulsed || w.tr.Current != nil {
		return 0, 0, false // where the current is known it says more
	}
	byWay, atSpeed := w.underWay()
	volts, speed := slices.Concat(byWay[0], byWay[1]), slices.Concat(atSpeed[0], atSpeed[1])
	if len(volts) < 10 {
		return 0, 0, false
	}
	stops := w.pressedVolts(mean(speed) / 2)
	if len(stops) < 2 || quantileOf(stops, 0.9)-quantileOf(stops, 0.1) > 0.12*quantileOf(volts, 0.9) {
		return 0, 0, false
	}
	// The volts are known well and the speeds are not: these are laid over those.
	line, ok := stats.FitLine(volts, speed)
	err := line.Residual / line.Spread // of the slope
	if !ok || !(line.Slope > sure*err) {
		return 0, 0, false
	}
	v, n := mean(volts), mean(speed)
	ends := v - n/line.Slope
	unsure := n / line.Slope * err / line.Slope // V
	level = medianOf(stops)
	if math.Abs(ends-level) > agrees*unsure+within*v || ends-agrees*unsure < greatestLoad*v {
		return 0, 0, false
	}
	return level, 1 - level/medianOf(volts), true
}

// pressedVolts lists the unsigned drive, in V, of the ends of moves at which the shaft is
// surely slower than so many V/s: rows of one level, two tenths of a second or longer, a
// short press that a control cuts off by its current included.
func (w *work) pressedVolts(slow float64) []float64 {
	var out []float64
	for k := range w.moves {
		m := &w.moves[k]
		b := m.last - 1 // the last row may be that of the switching
		if m.Direction == None || b-m.first < 8 {
			continue
		}
		level := math.Abs(medianOf(w.d.mean[b-3 : b]))
		a := b
		for a > m.first && lapse(w.t[b], w.t[a-1]) < 2 && math.Abs(math.Abs(w.d.mean[a-1])-level) < 0.05*level {
			a--
		}
		n := b - a
		if n < max(5, w.rows(0.2)) || a-m.first < w.rows(0.3) {
			continue
		}
		rate, _ := straightLine(w.t[a:b], w.v[a:b])
		if math.Abs(rate)+2*slopeNoise(w.noise, n, w.tr.Step) < slow {
			out = append(out, level)
		}
	}
	return out
}
