package analyze

import (
	"math"
)

// joinShift joins to a reading that steps with the drive everything that such
// steps look like: they make stalls, falls and leaps out of nothing. What is far
// larger than the steps they do not make, nor what the drive and the current themselves
// do. A step that a sound harness makes as well is a fault where a control hunts on it,
// and little of one else.
func (w *work) joinShift() {
	for i := range w.found {
		shift := &w.found[i]
		if shift.Kind != DriveShift || shift.Event == roughEvent {
			continue
		}
		step := shift.value(MeasureStep)
		if x, ok := shift.Measure(stepAtStall); ok && shift.Form == alikeBothWays && !w.sure(Hunting) {
			shift.Strength *= w.tooMuchShift(x)
		}
		for k := range w.found {
			switch f := &w.found[k]; f.Kind {
			case RefLoss, SupplySag, NoDrive, HalfDrive, StaysOn, NotAPot, Heating, WeakDrive, DriveShift, HeavyDrag, FeedResists, Broken:
			default:
				if !w.largerThan(f, 3*step) {
					f.Event = shift.Event
					f.Strength *= 0.2
				}
			}
		}
		return
	}
}

// largerThan tells whether what was found goes further than so many volts: a band by its
// width, a stall by how far it is from both ends of the span or its stop from where a
// sound one is, leaps and falls by the middle one, a load that was lost by how far each
// stop was passed, or by how much sooner the shaft is there. Of what else was found
// nobody knows.
func (w *work) largerThan(f *Finding, volts float64) bool {
	switch f.Kind {
	case SlowZone, BentTrack:
		return f.Volts.Width() > volts
	case Jam:
		return math.Min(f.Volts.From-w.span.From, w.span.To-f.Volts.To) > volts
	case DeadSpot, GearSlip:
		return f.leapOf() > volts
	case EndLoss:
		return f.value(MeasureHiddenTravel) > volts
	case LoadLost:
		if low, ok := f.Measure(MeasureLowStopPassed); ok {
			return math.Min(low, f.value(MeasureHighStopPassed)) > volts
		}
		return f.value(MeasureGainOfSpeed)/100*w.span.Width() > volts
	}
	return false
}

// leapOf is how far the reading goes, in the middle, at the places of a finding, V.
func (f *Finding) leapOf() float64 {
	var size []float64
	for _, o := range f.Places {
		size = append(size, o.Volts.Width())
	}
	if len(size) == 0 {
		return 0
	}
	return medianOf(size)
}
