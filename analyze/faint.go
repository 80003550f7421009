package analyze

import (
	"fmt"
	"math"
)

// A faintDrive is a stretch in which the drive stands at a few volts of its own, apart
// from any full drive.
type faintDrive struct {
	first, last int     // bins, both in
	volts       float64 // unsigned
}

// faintDrives lists the drives opposite to polarity s (0 negative, 1 positive) that come
// with a small part of the volts and hold them: a leg of the drive that hardly conducts.
// What a motor generates as it runs down falls off, and comes right after a full drive.
func (w *work) faintDrives(s int, volts []float64) []faintDrive {
	if w.tr.DriveIsPolarity {
		return nil
	}
	sign := 1.0
	if s == 1 {
		sign = -1
	}
	// The drop of a diode or two is half a volt or more; noise must stay below.
	d := make([]float64, 0, len(w.v))
	for i := 1; i < len(w.v); i++ {
		if w.d.pol[i] == 0 && w.d.pol[i-1] == 0 {
			d = append(d, math.Abs(volts[i]-volts[i-1]))
		}
	}
	if len(d) == 0 {
		return nil
	}
	least := math.Max(0.03*w.d.amp, 4*quantileIn(d, 0.9))
	in := func(i int) bool {
		x := sign * volts[i]
		return x > least && x < 0.45*w.d.amp
	}
	const bridge = 0.3 // s between pulses of one drive at most (chosen, not derived)
	var out []faintDrive
	last := math.Inf(-1) // end of the last full drive
	for i := 0; i < len(w.v); i++ {
		if math.Abs(volts[i]) > 0.6*w.d.amp {
			last = w.t[i]
		}
		if !in(i) {
			continue
		}
		run := []float64{volts[i]}
		j := i
		for k := i + 1; k < len(w.v) && lapse(w.t[k], w.t[j]) <= math.Max(bridge, 1.5*w.tr.Step) && math.Abs(volts[k]) <= 0.6*w.d.amp; k++ {
			if in(k) {
				j = k
				run = append(run, volts[k])
			}
		}
		m := math.Abs(medianOf(run))
		if float64(len(run))*w.tr.Step >= math.Max(1.0/6, 3*w.tr.Step) && lapse(w.t[i], last) > 0.2 && quantileOf(run, 0.9)-quantileOf(run, 0.1) < 0.4*m {
			out = append(out, faintDrive{i, j, m})
		}
		i = j
	}
	return out
}

// singleDrive is the drive about its rest level, bin by bin: pulses as they came.
func (w *work) singleDrive() []float64 {
	if !w.d.pulsed {
		return w.d.mean
	}
	out := filled(w.tr.Drive.Mean)
	for i := range out {
		out[i] -= w.d.levels.Rest
	}
	return out
}

// findFaintLeg reports a polarity that comes with hardly any volts, again and again, and
// moves nothing, while the other comes with all of them: from the start, or from some
// moment on after which it never came in full again. Half the volts and more are weighed
// elsewhere (findOnePolarity).
func (w *work) findFaintLeg(s int, count [2]int) bool {
	const (
		tries = 3
		all   = 6 // tries, however short, where one full drive only tells that there is a drive
	)
	drive := w.singleDrive()
	faint := w.faintDrives(s, drive)
	if len(faint) < tries {
		return false
	}
	o := 1 - s
	full, lastFull := 0, math.Inf(-1)
	for k := range w.moves {
		if m := &w.moves[k]; (m.Polarity > 0) == (o == 1) && peakOf(drive[m.first:m.last]) > 0.6*w.d.amp {
			full++
			lastFull = m.Time.To
		}
	}
	var volts []float64
	seconds := 0.0
	moved := 0
	for _, f := range faint {
		if w.t[f.first] < lastFull {
			return false // a few volts before, and all of them after: meant, or another thing
		}
		volts = append(volts, f.volts)
		seconds += w.t[f.last] - w.t[f.first]
		if math.Abs(w.v[f.last]-w.v[f.first]) > 2*w.tol {
			moved++
		}
	}
	many := full == 0 && (count[s] >= 3 || len(faint) >= all)
	if !many && seconds < leastDriven || 2*moved > len(faint) {
		return false
	}
	// Driven again into the stop where it lies, for want of the other way: one event with
	// the stalls there.
	f := Finding{Kind: OneWay, Form: fewVolts, Direction: -w.directionOf(s), Time: w.drivenTime(), Volts: w.span, Tie: TiedToDirection, TieP: 1,
		Strength: 1 - math.Exp(-float64(len(faint))/1.5), Event: fmt.Sprintf("stall %s", w.directionOf(s)), Seen: len(faint), Passes: len(faint),
		Measures: []Measure{{MeasureDriveThatWay, medianOf(volts), "V"}, {MeasureDriveOtherWay, w.d.amp, "V"}}}
	if full > 0 {
		f.Time.From = w.t[faint[0].first]
	}
	w.found = append(w.found, f)
	return true
}

// peakOf is what nine tenths of the volts of a drive stay below, unsigned.
func peakOf(volts []float64) float64 {
	x := make([]float64, len(volts))
	for i, v := range volts {
		x[i] = math.Abs(v)
	}
	if len(x) == 0 {
		return 0
	}
	return quantileOf(x, 0.9)
}
