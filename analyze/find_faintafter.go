package analyze

import (
	"fmt"
	"math"
)

// hardlyAnyLeft is the form of a drive that comes with hardly any volts, either way, from
// some moment on.
const hardlyAnyLeft = "drive, hardly any left"

// findFaintAfter reports a drive that came in full at first, and from some moment on, in
// both polarities, only with fewer volts than a gear motor starts on: nothing moves. What
// leaks into a channel or lies on it as an offset knows no polarity; a motor that is turned
// by hand makes volts, and its reading moves.
func (w *work) findFaintAfter() bool {
	const tries = 3
	if w.tr.DriveIsPolarity || w.d.amp < 2*startVolts {
		return false // with so few volts at the most they are no fewer afterwards
	}
	drive, full := w.driveAboutFirstRests()
	var volts []float64
	seconds, first := 0.0, math.Inf(1)
	for s := range 2 {
		faint := w.faintDrives(s, drive)
		if len(faint) == 0 {
			return false
		}
		for _, f := range faint {
			if w.t[f.first] < full || f.volts > startVolts || math.Abs(w.smooth[f.last]-w.smooth[f.first]) > math.Max(2*w.tol, w.visible()) {
				return false
			}
			volts = append(volts, f.volts)
			seconds += w.t[f.last] - w.t[f.first]
			first = math.Min(first, w.t[f.first])
		}
	}
	if len(volts) < tries || seconds < leastDriven {
		return false
	}
	var fully []float64
	for _, v := range drive {
		if a := math.Abs(v); a > 0.6*w.d.amp {
			fully = append(fully, a)
		}
	}
	level, before := medianOf(volts), medianOf(fully)
	w.found = append(w.found, Finding{Kind: SupplySag, Form: hardlyAnyLeft, Time: Interval{first, w.t[len(w.t)-1]}, Tie: TiedToTime, TieP: 1, Event: "supply",
		Strength: 1 - math.Exp(-float64(len(volts))/1.5), Seen: len(volts), Passes: len(volts),
		Measures: []Measure{{MeasureLevelUnderLoad, level, "V"}, {MeasureDropUnderLoad, 100 * (1 - level/before), "%"}, {MeasureLevelBefore, before, "V"}}})
	return true
}

// driveAboutFirstRests is the drive about the level it rests at until the last full drive,
// at which it ends: afterwards a feeble one may stand longer than it rests.
func (w *work) driveAboutFirstRests() (drive []float64, full float64) {
	for i, v := range w.singleDrive() {
		if math.Abs(v) > 0.6*w.d.amp {
			full = w.t[i]
		}
	}
	drive = filled(w.tr.Drive.Mean)
	var rests []float64
	for i, p := range w.d.pol {
		if p == 0 && w.t[i] < full {
			rests = append(rests, drive[i])
		}
	}
	if len(rests) == 0 {
		return drive, full
	}
	rest := medianIn(rests)
	for i := range drive {
		drive[i] -= rest
	}
	return drive, full
}

// faintAfterTitle says what is left of the drive.
func (f *Finding) faintAfterTitle() string {
	return fmt.Sprintf("The drive came with %.1f V at first; from %.1f s on it comes with %.1f V only, %s, either way, and nothing moves.", f.value(MeasureLevelBefore), f.Time.From, f.value(MeasureLevelUnderLoad), timesText(f.Seen))
}
