package analyze

import "math"

// turnsFreePulsed is the same of a slow place under pulses: at one share of time on, there
// and beside, the current of a motor, which goes on between the pulses, is in proportion to
// its torque. What it draws while it is held hardly shows then: of what the pulses would
// make it draw it runs at [greatestLoad] over their share at most, and if a load slowed it
// there it would draw more by what follows from that, at the least. Three tenths is twice
// what loads near by differ by.
func (w *work) turnsFreePulsed(f *Finding) {
	const clear = 1.3
	if f.Form != "" || !w.driveKnown() {
		return
	}
	there, beside, share := w.pulsedCurrentOfPlaces(f)
	load := math.Min(1, greatestLoad/share)
	speed, _ := f.Measure(MeasureSpeedThere)
	due := (1 - speed*(1-load)) / load
	if ratio := there / beside; due > clear && ratio > noneOfRunning && ratio < 1+(due-1)/4 {
		f.Measures = append(f.Measures, Measure{currentBeside, ratio, ""})
	}
}

// pulsedCurrentOfPlaces gives the usual current, above what flows at rest, at the places of
// a finding and just before and after, where the pulses are alike, and the share of time
// that they are on; NaN where fewer than two places show it.
func (w *work) pulsedCurrentOfPlaces(f *Finding) (there, beside, share float64) {
	var shares []float64
	full := w.steadyDrive()
	in, out := w.currentsAbout(f, func(place Interval) func(from, to float64) float64 {
		level := medianOf(full[indexAt(w.t, place.From):indexAt(w.t, place.To)])
		shares = append(shares, level/w.d.amp)
		return func(from, to float64) float64 { return w.meanCurrentAt(level, from, to) }
	})
	if len(in) < 2 {
		return math.NaN(), math.NaN(), math.NaN()
	}
	idle := w.idleCurrent()
	return medianOf(in) - idle, medianOf(out) - idle, medianOf(shares)
}

// meanCurrentAt is the mean unsigned current between two times while the drive, averaged
// over its pulses, is within a twentieth of a level (chosen, not derived); NaN where that is
// less than half of the time.
func (w *work) meanCurrentAt(level, from, to float64) float64 {
	full := w.steadyDrive()
	var x []float64
	n := 0
	for i := indexAt(w.t, from); i < len(w.t) && w.t[i] < to; i++ {
		n++
		if c := math.Abs(float64(w.tr.Current.Mean[i])); !math.IsNaN(c) && math.Abs(full[i]-level) < level/20 {
			x = append(x, c)
		}
	}
	if len(x) < 3 || 2*len(x) < n {
		return math.NaN()
	}
	return mean(x)
}
