package analyze

import (
	"math"
)

// shown is the probability that a capture of an actuator with the fault shows
// a finding of this sort, in the order of [Faults]: none, feedback sensor,
// motor, door mechanism, wiring or control. The numbers are judgements from
// the physics of each fault, mostly to one digit, set by hand and not by a program. Many
// were looked at again where simulated captures that may be developed on were judged
// wrong; what they are worth is measured on captures kept aside.
type shown [faultCount]float64

// unmoved is the likelihood all faults share for a finding that is not real:
// how often a capture of anything shows a false one of its kind.
const unmoved = 0.05

// manySlips is the number of falls from which teeth are worn away: a door that
// jams makes sound ones click once or twice before anybody stops driving.
const manySlips = 8

// weights gives the log likelihood of a finding under each fault, relative to
// the largest, and the reason in one sentence. A finding of strength s is
// real with probability s; if it is not, it says the same about every fault.
func weights(f *Finding) ([]float64, string) {
	p, why := likelihoods(f)
	out := make([]float64, faultCount)
	top := math.Inf(-1)
	for i := range out {
		out[i] = math.Log(f.Strength*p[i] + (1-f.Strength)*unmoved)
		top = math.Max(top, out[i])
	}
	for i := range out {
		out[i] -= top
	}
	return out, why
}

// has tells whether the finding carries the named measure.
func (f *Finding) has(name MeasureName) bool { _, ok := f.Measure(name); return ok }

// likelihoods asks the table of the finding's kind; the tables stand beside one
// another in likelihood_*.go, by what they are about.
func likelihoods(f *Finding) (shown, string) {
	switch f.Kind {
	case DeadSpot:
		return deadSpotLikelihood(f)
	case NoisyTrack:
		return noisyTrackLikelihood(f)
	case EndLoss:
		return endLossLikelihood(f)
	case Dropouts:
		return dropoutsLikelihood(f)
	case Hunting:
		return huntLikelihood(f)
	case SpanDrift:
		return spanDriftLikelihood(f)
	case TravelChange:
		return travelChangeLikelihood(f)
	case Jam:
		return jamLikelihood(f)
	case SpanShift:
		return spanShiftLikelihood(f)
	case SlowZone:
		return slowZoneLikelihood(f)
	case BentLine:
		return bentLineLikelihood(f)
	case BentTrack:
		return bentTrackLikelihood(f)
	case StickSlip:
		return stickSlipLikelihood(f)
	case Pauses:
		return pausesLikelihood(f)
	case GearTurn:
		return gearTurnLikelihood(f)
	case WeakDrive:
		return weakDriveLikelihood(f)
	case Heating:
		return heatingLikelihood(f)
	case LoadLost:
		return loadLostLikelihood(f)
	case GearSlip:
		return gearSlipLikelihood(f)
	case OneWay:
		return oneWayLikelihood(f)
	case NoMotion:
		return noMotionLikelihood(f)
	case NoDrive:
		return noDriveLikelihood(f)
	case HalfDrive:
		return halfDriveLikelihood(f)
	case AtRail:
		return atRailLikelihood(f)
	case RefLoss:
		return refLossLikelihood(f)
	case Play:
		return playLikelihood(f)
	case Ignored:
		return ignoredLikelihood(f)
	case Broken:
		return brokenLikelihood(f)
	case LastingLeap:
		return lastingLeapLikelihood(f)
	case DriveShift:
		return driveShiftLikelihood(f)
	case UnevenWays:
		return unevenWaysLikelihood(f)
	case StaysOn:
		return staysOnLikelihood(f)
	case HeavyDrag:
		return heavyDragLikelihood(f)
	case FeedResists:
		return feedResistsLikelihood(f)
	case SupplySag:
		return supplyLikelihood(f)
	case SelfMotion:
		return selfMotionLikelihood(f)
	case Unexplained:
		return unexplainedLikelihood(f)
	}
	return shown{.05, .05, .05, .05, .05}, ""
}
