package analyze

import (
	"math"
	"strings"
)

// jamLikelihood is that of a stall short of a stop, or of a stop that blames itself.
func jamLikelihood(f *Finding) (shown, string) {
	if strings.HasPrefix(f.Form, jamShortOfProfile) {
		return profileJamLikelihood(f)
	}
	switch f.Form {
	case jamOnePlace:
		return shown{.0008, .02, .06, .4, .004}, "the shaft comes to a stand again and again at one place short of the stop: something is in the way there"
	case jamNotPast:
		return shown{.001, .012, .06, .3, .02}, "the shaft stalled short of the stop, and each further try stayed there"
	case jamPassed:
		return shown{.003, .01, .09, .16, .04}, "the shaft stalled at one place and later went past it: an obstacle that gave way, or a motor that failed for a moment"
	case jamOnce:
		if f.has(ranBackFreely) {
			why := "the shaft stalled once short of a stop it had reached before, and ran back freely"
			if f.has(reachedLater) {
				why = "the shaft stalled once short of where it came to later, and ran back freely"
			}
			return shown{.003, .01, .05, .2, .01}, why
		}
		return shown{.004, .02, .06, .12, .01}, "the shaft stalled once short of the stop"
	case jamStopLost:
		return shown{.002, .05, .01, .25, .006}, "a stop that was reached before is no longer reached from one moment on: something is in the way"
	case jamScattered:
		return shown{.002, .01, .25, .04, .02}, "the shaft stalls at different places: what tires is the drive, an obstacle stays where it is"
	}
	if strings.HasPrefix(f.Form, jamFarInside) {
		// What lies there in every pass is a stop or an obstacle, and no pass of this capture
		// tells which: driven into again, the one is about as likely as the other: chosen, not derived, so
		// that neither is stated; how many sound travels lie so far to one side nobody has counted.
		// Who leaves a stop that he wanted goes on to anywhere: he turns within half of the
		// travel, and back into that stop, at most once in four times.
		if f.has(triedAgain) {
			return shown{.005, .02, .02, .12, .02}, "it ends far inside the sensor's range on one side only, and there it steps back and is driven into it again and again, as one tries who is stuck: the position that is wanted lies beyond"
		}
		if f.has(oftenerThere) {
			return shown{.02, .02, .02, .12, .02}, "it ends far inside the sensor's range on one side only, and is driven there oftener than to the other end: a stop that is made so, or something in the way of what is wanted (a good one, the good side, or a run uncoupled from the door tells which)"
		}
		if f.has(usualOnLowSupply) {
			return shown{.02, .03, .02, .12, .02}, "most actuators use most of the sensor's supply: one on a lower supply than taken, or made for a shorter way, ends there too, else something stops it early on one side (log the supply, or compare the good side)"
		}
		return shown{.03, .03, .02, .12, .02}, "most actuators use most of the sensor's supply: this one is made for a shorter way, or something stops it early on one side (a good one, or the good side, tells which)"
	}
	if inside, ok := f.Measure(MeasureInsideSupply); ok {
		// A control that is content within a band of its target, and has one at the
		// very stop, drives into it a few times as well.
		good := math.Max(.004, .1*math.Pow(.5, float64(f.Seen-3)))
		if inside > 100*outerQuarter {
			return shown{good / 4, .02, .015, .25, .006}, "it is driven anew into the stop on which it rests, far inside the sensor's range, and far seldomer into the other one: the position that is wanted lies beyond, and something is in the way, or the control has learned other ends"
		}
		return shown{good, .03, .02, .15, .015}, "it is driven anew into the stop on which it rests, and far seldomer into the other one: the position that is wanted lies beyond it, or the control has learned other ends"
	}
	if f.has(triesOfCheck) {
		return shown{.006, .03, .02, .2, .02}, "the controller repeats its position check and gives it up, and one end lies far inside the sensor's range: it looks for a travel that it does not find"
	}
	if f.has(paceOfShort) {
		return shown{.05, .02, .02, .14, .02}, "one side is driven into a stop far inside the sensor's range again and again; at its pace a usual travel would take longer than any does, so it is likely made for a shorter one (a good one, or the good side, tells)"
	}
	if f.has(otherEndAsFar) || f.has(usualOnLowSupply) {
		return shown{.05, .02, .02, .14, .02}, "one side is driven into a stop far inside the sensor's range again and again; a short-travel actuator, or a sensor on a lower supply, may end there too"
	}
	if f.Seen >= 6 {
		return shown{.002, .02, .015, .25, .006}, "one side is driven into the same stop far inside the sensor's range again and again, the other is not, and it leaves the stop freely"
	}
	return shown{.02, .02, .02, .14, .006}, "one side is driven into a stop far inside the sensor's range again and again, the other is not"
}
