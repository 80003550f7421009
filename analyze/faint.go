package analyze

import "math"

// faintDrives counts the drives opposite to polarity s (0 negative, 1
// positive) that come with far too few volts to move anything, and their
// median, in V: a leg of the driver that hardly conducts. They are flat, last
// a sixth of a second or more, and do not follow right upon a drive, as the
// motor's own voltage does when it coasts.
func (w *work) faintDrives(s int) (int, float64) {
	if w.tr.DriveIsPolarity || w.d.pulsed {
		return 0, 0
	}
	sign := 1.0
	if s == 1 {
		sign = -1
	}
	// The drop of a diode or two is half a volt or more; noise must stay below.
	var d []float64
	for i := 1; i < len(w.v); i++ {
		if w.d.pol[i] == 0 && w.d.pol[i-1] == 0 {
			d = append(d, math.Abs(w.d.mean[i]-w.d.mean[i-1]))
		}
	}
	if len(d) == 0 {
		return 0, 0
	}
	least := math.Max(0.03*w.d.amp, 4*quantileOf(d, 0.9))
	in := func(i int) bool {
		x := sign * w.d.mean[i]
		return x > least && x < 0.45*w.d.amp
	}
	var volts []float64
	last := math.Inf(-1) // end of the last full drive
	for i := 0; i < len(w.v); i++ {
		if math.Abs(w.d.mean[i]) > 0.6*w.d.amp {
			last = w.t[i]
		}
		if !in(i) {
			continue
		}
		j := i
		for j+1 < len(w.v) && in(j+1) {
			j++
		}
		run := w.d.mean[i : j+1]
		m := math.Abs(medianOf(run))
		if w.t[j]-w.t[i] >= math.Max(1.0/6, 3*w.tr.Step) && w.t[i]-last > 0.2 && quantileOf(run, 0.9)-quantileOf(run, 0.1) < 0.4*m {
			volts = append(volts, m)
		}
		i = j
	}
	if len(volts) == 0 {
		return 0, 0
	}
	return len(volts), medianOf(volts)
}
