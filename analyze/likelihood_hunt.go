package analyze

import (
	"math"
	"strings"
)

// doesNotAnswer is the name of a measure: the drive turns over and over, and the reading
// stands.
const doesNotAnswer = "reading does not answer"

// huntLikelihood judges hunting by where it sits, whether its moves end in
// stalls, and what the other end does.
func huntLikelihood(f *Finding) (shown, string) {
	end := strings.HasPrefix(f.Form, "at the")
	spread, stalls := f.Measure(stallSpread)
	amp, _ := f.Measure(MeasureAmplitudeOfSpan)
	uneven, _ := f.Measure(MeasureCycleSpread)
	regular, timed := f.Measure(MeasureRegularity)
	if !timed {
		regular = 1
	}
	// Controls try their stops a few times over, at power-up and later, without
	// anything being wrong, exercise a door by a few strokes, or are sent to and fro by hand.
	// A monitor of control loops takes ten turns on end for an oscillation (Hagglund, Control
	// Eng. Practice 3 (1995) 1543-1551; the number from memory).
	tries := .001
	switch {
	case f.Seen <= 6:
		tries = .12
	case f.Seen <= 9:
		tries = .03
	case f.Seen <= 12:
		tries = .006
	}
	switch {
	case f.has(pulsesFollowed):
		return shown{.06, .03, .03, .02, .05}, "short pulses to and fro, the reading follows one by one, and then a rest: so a control brakes, or seats what it drives; a sensor that failed there would not follow, and nothing is in the way"
	case f.has(doesNotAnswer):
		return shown{math.Max(.001, tries/3), .03, .2, .06, .12}, "driven to and fro it does not move: motor, its feed, or a blocked door"
	case f.has(readingLeaps):
		return shown{.0005, .3, .003, .002, .2}, "the control turns its drive over because the reading leaps, further than any shaft goes in that time: a track that is open there, or a contact in the cable"
	case f.has(lostEachTurn):
		return shown{.01, .03, .18, .04, .03}, "after each turn of the drive the reading stands until the motor has turned through the same travel, and then follows: it hunts within the play of gears, or of what sits on the shaft"
	case f.has(settlesInTheEnd):
		return shown{.02, .02, .03, .02, .08}, "it steps to and fro over little of the travel and then rests, each time, and the reading follows each drive at once: a control that needs many corrections and finds its place, or one that aims too narrowly"
	case f.has(triesBothStops):
		// It says nothing for a sound actuator either: a span that has shrunk, by the sensor
		// or its supply, puts the target beyond the stops as well.
		return shown{.08, .08, .04, .04, .08}, "it drives into either stop, rests, steps back by a clock and tries again, and the reading leaves the stop at once: a control that aims beyond its stops, by its own setting or as the sensor's span has shrunk; an obstacle would stand at one end"
	case f.has(huntsAnywhere):
		return shown{math.Max(.004, tries/3), .03, .06, .02, .3}, "it hunts wherever it is sent, and the reading follows each drive at once: the control turns the motor over too late or aims too narrowly; slack in the gears would make it hunt as well, but answer late"
	case f.has(everySwingAlike):
		return shown{math.Max(.004, tries/3), .03, .05, .02, .3}, "each swing is the one before over again, and the reading follows each drive as a shaft does, without a leap, a stand or scatter: the actuator does what it is told, and what turns it over is what hunts"
	case end && f.has(answersAtOnce) && f.has(settlesHere):
		return shown{math.Max(.03, tries), .09, .02, .06, .07}, "it goes to and fro at an end where it settled at other times, and the reading follows at once: a control that tries its stop again, or a fault that comes and goes"
	case amp > 25 && !stalls, amp > 12 && (uneven > 20 || !stalls && regular < 1):
		// Whoever drives by hand runs into the stops as well.
		return shown{.02, .05, .03, .04, .05}, "wide or uneven swings: a person or a control at work"
	case stalls && end && spread < 0.02*f.span && f.has(stopUncoupled):
		return shown{math.Max(.02, tries), .04, .03, .03, .03}, "it runs into the end and back again and again, leaves it at once, and ends there uncoupled as well: a control that aims beyond its stop, or a sensor that does not report the arrival"
	case stalls && f.has(stallFarInside) && spread < 0.02*f.span:
		return shown{tries, .02, .02, .25, .01}, "it runs against the same place, far inside the sensor's range, again and again, and leaves it freely: something is in the way"
	case stalls && end && spread < 0.02*f.span && f.has(leftAtOnce):
		return shown{math.Max(.003, tries), .04, .03, .22, .02}, "it runs into the same place again and again and leaves it at once: it wants to go further and cannot"
	case stalls && end:
		return shown{math.Max(.002, tries), .14, .04, .06, .03}, "it runs into the end and back again and again: either an obstacle there, or a sensor that does not report the arrival"
	case stalls && spread < 0.03*math.Max(f.Volts.Width(), 1e-9)+0.05 && !end:
		return shown{.001, .02, .03, .2, .02}, "it drives against one place in mid travel again and again"
	case end && f.has(answersAtOnce):
		return shown{math.Max(.01, tries/4), .12, .03, .05, .05}, "it hunts at an end of travel, though the reading follows each drive at once"
	case end && f.has(otherEndSettles):
		return shown{math.Max(.001, tries/3), .4, .02, .02, .02}, "it hunts at one end and settles at the other: the sensor at that end (common practice, no source)"
	case end:
		return shown{math.Max(.002, tries/3), .3, .03, .03, .05}, "it hunts at an end of travel"
	}
	if f.has(answersAtOnce) && f.Seen >= 12 && regular >= 1 {
		return shown{.01, .04, .04, .02, .18}, "it hunts in mid travel, as evenly as a clock, and the reading follows each drive at once: a control that turns the motor over too late or aims too narrowly, rather than a place that fails"
	}
	if f.has(answersAtOnce) {
		return shown{math.Max(.02, tries), .06, .03, .03, .08}, "it hunts in mid travel, though the reading follows each drive at once: a control that is set too sharp, or a place that fails now and then"
	}
	if strings.HasPrefix(f.Form, nearUsual) {
		return shown{.004, .1, .04, .05, .08}, "it hunts where such an actuator usually ends; no stop was seen, so whether that is an end is open"
	}
	return shown{.004, .1, .04, .05, .08}, "it hunts in mid travel: the control cannot find its position there"
}
