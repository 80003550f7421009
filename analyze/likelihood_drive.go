package analyze

import (
	"fmt"
	"math"
	"strings"
)

// How findings about the drive, the wiring and the sensor's supply bear on each fault,
// in the order of [Faults]; see [shown].

func oneWayLikelihood(f *Finding) (shown, string) {
	if f.Form != "" {
		return shown{.001, .005, .01, .01, .3}, "it answers one polarity and not the other, and the other comes with far fewer volts"
	}
	blind := f.has(onlyPolarity)
	switch {
	case f.has(noCurrentThatWay):
		return shown{.0005, .001, .02, .001, .5}, "driven that way the motor draws no current: that polarity does not reach it"
	case f.has(runsLight):
		return shown{.0005, .01, .4, .004, .01}, "driven that way the motor draws no more than it draws to run, and far less than it draws held: it turns, and its gears do not take the shaft along"
	case f.has(failsAtPlacesApart) && blind:
		return shown{.001, .01, .03, .02, .3}, "it answers one polarity and not the other, wherever it is: what stands in a door's way stands at one place"
	case f.has(movesOtherWay) && blind:
		return shown{.001, .01, .03, .08, .2}, "it answers one polarity and not the other; whether that polarity reaches the motor was not logged"
	case f.has(movesOtherWay):
		return shown{.001, .01, .04, .1, .05}, "it answers one polarity and not the other although both reach it: an open lead would stop both"
	case f.has(onlySprings) && blind:
		return shown{.001, .01, .02, .012, .3}, "driven back it leaves the stop no faster than what was pressed pushes it: no motor turns it that way, and one that was held by a wedged door would first take up that little at its own pace"
	case f.has(restsAtOtherEnd) && blind:
		return shown{.001, .01, .03, .05, .3}, "it ran to one end and does not come back: one leg of the drive, or a door wedged there"
	case f.has(restsAtOtherEnd):
		return shown{.001, .01, .1, .12, .05}, "it ran to one end and does not come back although both polarities reach it: wedged there, or gears"
	}
	return shown{.001, .01, .12, .08, .12}, "it stopped for good: since then neither polarity moved it"
}

func noMotionLikelihood(f *Finding) (shown, string) {
	switch {
	case f.Form == readsNoise:
		return shown{.001, .1, .01, .01, .3}, "the reading is noise or hum and no position: the feedback wire or the wiper is open, or the probe is not on it"
	case f.Form == noSupply:
		return shown{.003, .004, .01, .006, .4}, "asked to run without a supply: the volts do not arrive, and nothing else can be told"
	case f.Form == feebleDrive:
		return shown{.004, .01, .02, .01, .35}, "far fewer volts than such a motor needs to start: they do not come from the control, or get lost on their way"
	case strings.HasPrefix(f.Form, "no current") && f.has(onlyPolarity):
		return shown{.0005, .002, .2, .002, .3}, "asked to run, no current: the motor circuit is open, in the motor or in the wiring, or no volts come"
	case strings.HasPrefix(f.Form, "no current"):
		return shown{.0005, .002, .3, .002, .15}, "drive but no current: the motor circuit is open behind where the volts were taken; at the actuator's own connector that is the motor, else the wires to it as well"
	case f.Form == currentOneWay:
		// A channel that reads one sense alone shows the same of a shaft that is blocked.
		return shown{.0005, .002, .02, .05, .3}, "no motion, and one polarity draws no current: a motor conducts either way, so that polarity does not reach it (one leg of the bridge, a diode in a lead), and it stands where the other took it; where the current channel reads one sense only, the shaft may be blocked"
	case strings.HasPrefix(f.Form, "stall"):
		return shown{.0005, .005, .15, .25, .005}, "stall current without motion: gears or door are blocked"
	case strings.HasPrefix(f.Form, "running"):
		return turnsUnseenLikelihood(f)
	}
	if f.has(movedUntil) {
		// Whoever works on it may have pulled a plug.
		return shown{.0015, .02, .14, .06, .1}, "it followed the drive and then answers neither way any more: an obstacle would let it go the other way; gears or brushes that gave up, a lead that parted, or a door that binds; the motor's current would tell"
	}
	if f.has(currentSilent) {
		return shown{.004, .04, .14, .06, .1}, "driven, and the reading does not move; the current was logged, but does not tell a motor that turns from one that is blocked: this may be motor, door, sensor or cable"
	}
	return shown{.004, .04, .14, .06, .1}, "driven, and the reading does not move: without the current this may be motor, door, sensor or cable"
}

// betweenStops is the chance that a good actuator finds room for so much travel, in s at
// 12 V, without coming to a stop, wherever on its travel it was when it set out: of a
// travel of T it does from a share of 1 - s/T of the places.
func betweenStops(s float64) float64 {
	const parts = 50
	sum := 0.0
	for i := range parts {
		sum += goodAsLong(s*parts/(float64(i)+0.5), 0.2)
	}
	return sum / parts
}

// turnsUnseenLikelihood is that of a motor that turns, by its current, while the reading
// does not move. A shaft that turns with it comes to a stop, and its motor to a stall,
// within the time that its travel takes; gears that let go never meet one.
func turnsUnseenLikelihood(f *Finding) (shown, string) {
	long, _ := f.Measure(drivenApart)
	held, known := f.Measure(drivesHeldLater)
	yet := betweenStops(long)
	switch {
	case known && held >= 2:
		return shown{.0005, .4, .01, .003, .02}, "the motor turns, and is held later on, as at a stop: the shaft gets there and the reading does not tell"
	case known && held > 0:
		// Held once may be a load that caught; it was not never.
	case yet < 0.15: // chosen, not derived
		return shown{.0005, .4 * math.Max(yet, .02), .15, .003, .01}, fmt.Sprintf("the motor turns for %.0f s one way on balance and is never stalled: a shaft that turned would have come to its stop, so gears let go; a sensor that lost its drive would leave the motor a stop to run into", long)
	case known:
		return shown{.0005, .4 * yet, .15, .003, .02}, "the motor turns and the reading does not follow: sensor, or gears without a load; a shaft that turned might have come to a stop by now, and the motor was never stalled"
	}
	return shown{.0005, .4, .15, .003, .02}, "the motor turns and the reading does not follow: sensor, or gears without a load"
}

func noDriveLikelihood(f *Finding) (shown, string) {
	if f.Form == yetItTravels {
		return shown{.1, .1, .1, .1, .1}, "no drive in the whole capture, and yet the reading travels: the drive's clip was off its lead, or the shaft was moved by hand"
	}
	if f.Form == wokenUp {
		why := "the power came on and no drive followed: a control that wakes moves its doors within seconds, unless it is told not to; it does not want to, or what it sends does not arrive"
		if f.has(onlyPolarity) {
			why = "the power came on and the log of the polarity shows no drive: a control that wakes moves its doors within seconds, unless it is told not to"
		}
		return shown{.02, .01, .01, .01, .25}, why
	}
	return shown{.1, .02, .02, .02, .15}, "no drive in the whole capture"
}

func halfDriveLikelihood(f *Finding) (shown, string) {
	if f.Form == oneWaySince {
		return oneWaySinceLikelihood(f)
	}
	if f.has(stepByStep) {
		// Who drives one way only does so whatever is broken (common practice,
		// no source).
		return shown{.06, .06, .06, .06, .2}, "only one polarity was driven, step by step: a leg of the drive that is dead, or nobody asked for the other way; if you did so yourself, drive it the other way"
	}
	good := .01
	if f.Seen < 5 {
		good = .03 // a few drives may all be wanted one way
	}
	return shown{good, .01, .01, .01, .35}, "only one polarity was driven, again and again into a stop; if you did so yourself, drive it the other way"
}

func refLossLikelihood(f *Finding) (shown, string) {
	if f.Form == wanders {
		return shown{.03, .008, .01, .01, .1}, "the sensor's supply goes slowly from one level to another: the reading goes with it, and so does what the control compares it with"
	}
	if f.Form == sinks {
		return shown{.004, .008, .004, .004, .1}, "the sensor's supply sinks by more than a regulator and an instrument are off by: the regulator gives way, or a wire or contact before the sensor loses ever more, unless a bench feeds the sensor from no regulator"
	}
	if f.Form == batteryFed {
		return shown{.004, .005, .003, .003, .1}, "sensors are fed by a regulator, with 5 V or a few volts more, so that the control can read them: a wire that touches the battery's or stands in its place, or a control that lost its regulator, unless this sensor is made for the battery or a bench feeds all from one supply"
	}
	if f.has(goneWithIt) {
		return shown{.0004, .006, .0006, .0006, .4}, "the sensor's own supply goes, and the reading with it: its wire, a plug or a ground, unless a clip of the instrument let go"
	}
	return shown{.001, .01, .002, .002, .4}, "the sensor's own supply does not hold still"
}

func ignoredLikelihood(f *Finding) (shown, string) {
	if f.has(seldomRise) {
		// A control may hold its motor with both leads up, and for what nobody knows; one
		// that does so hardly ever, and then as long as it drives, is rare (judgement, no
		// source).
		good := .04
		if f.Seen > 1 {
			good = .025
		}
		return shown{good, .005, .015, .005, .16}, "both leads go up together out of rest, as long as a drive, and at other times it is driven both ways: a drive whose other lead had lost its way to ground just then, or a control that holds its motor so"
	}
	if f.Form == bothRise {
		return shown{.002, .001, .003, .001, .5}, "the controller raises one lead to drive it, and the other rises with it through the motor: its way to ground is open, in the driver or the wire"
	}
	if f.Form == bothFall {
		return shown{.002, .001, .003, .001, .4}, "both leads rest up; the controller lowers one to drive it, and the other falls with it through the motor: its way to the supply is open, in the driver or the wire. A controller that goes to sleep lets both down too, but not for as long as a drive"
	}
	if f.Form == bothMidway {
		return shown{.004, .001, .003, .001, .4}, "amid its drives both leads go up together for moments of any length, and where it is switched off they do not: that is not the control's own doing; a lead's way to ground opens, in the driver or the wire"
	}
	if f.Form == nowAndThen {
		return shown{.002, .002, .01, .003, .45}, "the controller wants it driven and the drive is not there: a contact, a wire or the driver gives way, whatever the motor is like"
	}
	return shown{.0005, .001, .002, .001, .6}, "the controller wants it driven and the drive is not there: the driver or the wires behind it, whatever the motor is like"
}

// opensBehind says where a circuit opens whose volts stay. A lead that opens on the side of
// the controller takes them with it, so it is what comes after the clips: the brushes, which
// a worn-out length or a stuck holder keeps off the bars, or a contact between clips and
// motor. As nobody knows where the clips were, that is as much a lead's as the motor's.
const opensBehind = "What opens lies behind the place where the drive was measured: with the clips at the actuator's own pins the brushes or a cut-out in the motor, with them at the controller a lead as well"

func brokenLikelihood(f *Finding) (shown, string) {
	if f.has(atOnePlaceOnly) {
		return shown{.0005, .003, .35, .004, .015}, "at one place, pass after pass, the shaft stands and the motor has next to nothing to turn: a gap in the teeth; a lead that opens knows no place"
	}
	switch f.Form {
	case brokenUnloaded:
		if f.has(fromStandstill) {
			return shown{.0008, .002, .3, .003, .2}, "driven, the shaft stands at first, and the volts at the leads are those of a drive without current: held by a door it would pull them down as at the stops. Brushes, a cut-out in the motor, or a lead that opens"
		}
		return shown{.0005, .002, .22, .002, .25}, "in the midst of its way the shaft stands, and the volts at the leads are those of a drive without current: held it would pull them down as at the stops. " + opensBehind
	case brokenNoCurrent:
		if f.has(voltsThere) {
			return shown{.0005, .002, .22, .002, .25}, "the drive's volts are there, no current flows and the shaft stands in the midst of its way. " + opensBehind
		}
		return shown{.0005, .002, .06, .002, .4}, "it is to be driven, no current flows and the shaft stands in the midst of its way: the driver, a lead or a contact opens; of brushes a motor that turns is carried on to the next bar"
	case brokenNoStart:
		return shown{.0008, .002, .3, .002, .2}, "driven from standstill no current flows, and at other times it does: brushes, or a lead that opens"
	case brokenFloats:
		return shown{.0005, .001, .005, .001, .4}, "the driven lead is up and the other stands above it: its driver's diodes would hold it at the supply, so the way between the two is open, at a plug, in a wire or in the driver"
	case brokenMidway:
		return shown{.06, .01, .03, .015, .16}, "on its way the drive goes and comes back for moments of any length: somebody at the switch or at the panel, or a contact; whoever recorded it knows whether he let go"
	case brokenCoasts:
		return shown{.001, .002, .015, .002, .4}, "in the midst of its way the motor is open, where it is switched off it is held: that is not the control's own doing, a lead or the driver's contact opens"
	}
	return shown{.02, .004, .02, .008, .3}, "the drive goes and comes back in moments of any length, where a control goes by its clock: a contact or the driver, or somebody at the switch"
}

func driveShiftLikelihood(f *Finding) (shown, string) {
	if f.Form == underOneDrive {
		return shown{.003, .01, .004, .004, .4}, "no shaft moves in an instant, least of all against its drive: the wiper's wire touches a motor lead, or leaks to it"
	}
	return shown{.003, .01, .004, .004, .4}, "no shaft moves in an instant: motor current flows through the sensor's ground or pulls its supply down, or the instrument's own ground sits on a wire that carries motor current"
}

func selfMotionLikelihood(f *Finding) (shown, string) {
	if f.Form == yetItTravels {
		return shown{.1, .1, .1, .1, .1}, "moved by hand, or driven while the drive's clip was off its lead: it tells nothing of the actuator"
	}
	if f.Form == againstDrive {
		return shown{.004, .1, .008, .006, .06}, "no shaft goes back against a motor at full volts and its gears: the reading left the shaft, and little by little, as a contact does whose resistance wanders, at the wiper or on its way; what goes with the current goes at once"
	}
	return shown{.004, .02, .01, .03, .2}, "the reading travels while no drive is seen"
}
