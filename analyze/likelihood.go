package analyze

import (
	"fmt"
	"math"
	"strings"
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
func (f *Finding) has(name string) bool { _, ok := f.Measure(name); return ok }

// likelihoods is the table.
func likelihoods(f *Finding) (shown, string) {
	switch f.Kind {
	case DeadSpot:
		switch {
		case f.Form == "rail to rail":
			return shown{.0005, .5, .002, .001, .01}, "from rail to rail with the direction of drive: the track itself is broken through, no contact outside it does that"
		case f.Form == "open" && f.Seen <= 2 && f.departs() < 0.02*f.ref:
			return shown{.02, .15, .01, .008, .04}, fmt.Sprintf("the reading left the track by only %s, %s at one place: a worn place, or sparks of the motor that fell together", f.amountOf("departure"), timesText(f.Seen))
		case f.Tie == TiedToPosition && f.Seen <= 2:
			return shown{.001, .5, .003, .004, .08}, "the same piece of track failed twice; two losses of a loose contact seldom fall in one place"
		case f.Tie == TiedToPosition:
			return shown{.0005, .6, .002, .003, .006}, "the same piece of track fails pass after pass while the shaft keeps moving: that is the track, not the door or the cable"
		case f.Form == "open" && f.departs() < 0.1*f.ref:
			return shown{.006, .15, .005, .005, .06}, "the signal left the track a little, once: a worn place, a bad contact or interference"
		case f.Form == "open" && f.Seen == 1:
			return shown{.004, .3, .005, .005, .08}, "the signal left the track and came back further on, once; one sighting does not separate the track from a bad contact"
		case f.Form == "open":
			return shown{.001, .3, .005, .005, .06}, "the signal left the track and came back further on, so the shaft had moved; one sighting does not separate the track from a bad contact"
		}
		return shown{.004, .3, .02, .04, .01}, "the reading stood and then jumped by what the shaft should have moved"
	case NoisyTrack:
		if f.Form == roughEverywhere {
			if f.has(noFurtherOff) {
				// The more there is of it, the fewer sound installations are left.
				good := .3
				if s, _ := f.Measure("scatter while moving"); s > 0.01*f.ref {
					good *= math.Pow(0.01*f.ref/s, 3)
				}
				return shown{good, .1, .01, .003, .04}, "the reading scatters evenly wherever the wiper is, as long as it moves: a wiper's own contact, or what the motor's brushes send into the wires"
			}
			if off, _ := f.Measure("one in a hundred off by"); f.has(offBothWays) {
				// A sparking motor's go to both sides, seldom as far.
				return shown{.35 * math.Pow(0.05*f.ref/off, 3), .25, .02, .003, .04}, "now and then the reading is far off, to both sides, as long as the shaft moves: a wiper's own contact, or sparks of the motor's brushes that the wires pick up"
			}
			return shown{.001, .3, .02, .003, .04}, "the reading scatters wherever the wiper is, as long as it moves, and is quiet where it stands: the wiper's own contact"
		}
		if x, ok := f.Measure("output smoothness"); ok && x < 1 {
			if f.Passes < 2 {
				return shown{.008, .2, .006, .006, .01}, "a place on the track is a little rougher than the rest"
			}
			return shown{.008, .2, .006, .006, .01}, "a place on the track is a little rougher than the rest, pass after pass"
		}
		return shown{.002, .3, .004, .004, .01}, "the noise belongs to a place on the track and returns with each pass"
	case EndLoss:
		if h, _ := f.Measure("hidden travel"); h < 0.06*f.span {
			return shown{.01, .14, .02, .05, .008}, "after the reversal the reading stood a little: the track ends before the shaft does, or slack and a springy stop give way"
		}
		return shown{.002, .2, .01, .02, .004}, "after the reversal the reading stood as long as the shaft needs to come back: the track ends before the shaft does"
	case Dropouts:
		switch f.Form {
		case "at rest too":
			return shown{.002, .03, .004, .002, .4}, "the signal is lost while the shaft rests: no track wears out standing still, a contact in the cable does come and go"
		case whileItMoves:
			return shown{.001, .2, .006, .006, .08}, "the signal is lost here and there, but hardly ever while the shaft rests: the wiper's contact, or a connector that the motor shakes"
		case "at no fixed place":
			return shown{.001, .03, .006, .004, .4}, "the losses come at times and not at places"
		}
		if f.Form == "few, apart" {
			return shown{.005, .06, .008, .008, .25}, "two losses of signal at places far apart, where other passes are clean"
		}
		switch {
		case f.Seen == 1:
			return shown{.05, .1, .01, .01, .15}, "a single loss of signal: interference can look the same"
		case f.Seen == 2:
			return shown{.015, .1, .01, .01, .15}, "single losses of signal, too few to say whether they belong to a place"
		}
		return shown{.006, .1, .01, .01, .15}, "single losses of signal, too few to say whether they belong to a place"
	case Hunting:
		return huntLikelihood(f)
	case SpanDrift:
		switch {
		case f.Form == byTravelTime:
			return shown{.001, .3, .005, .004, .03}, "strokes take as long as before and read differently: the sensor's scale changes, neither the travel nor the motor"
		case f.Form == inProportion:
			return shown{.004, .1, .004, .003, .1}, "both ends moved in proportion: the sensor's scale, or its supply, which a regulator holds to a few percent and a bad contact does not"
		case f.Form == "both ends alike":
			return shown{.006, .08, .01, .02, .06}, "both ends moved alike: sensor, ground or instrument offset"
		}
		if strings.HasSuffix(f.Form, "in one step") {
			return shown{.002, .12, .006, .08, .02}, "one end lies further out from one moment on: the sensor's scale, or a door that lets the actuator go further"
		}
		return shown{.001, .25, .006, .01, .01}, "the ends of the reading wander while the travel time stays: the sensor's scale changes, not the travel"
	case TravelChange:
		return shown{.004, .06, .06, .12, .005}, "span and travel time change together: the travel itself changes"
	case Jam:
		return jamLikelihood(f)
	case SpanShift:
		return spanShiftLikelihood(f)
	case SlowZone:
		if c, ok := f.Measure(currentBeside); ok {
			if c < 0.93 {
				return shown{.004, .07, .25, .006, .003}, "slow at a place where the motor draws no more than beside it, rather less: a door that binds would load it; teeth let go there, or the track tells too little of the way"
			}
			return shown{.004, .2, .08, .006, .003}, "slow at a place where the motor draws what it draws beside it: a door that binds would load it, so the shaft goes on and the track tells too little of the way, or teeth let go"
		}
		if f.Form == "stands and goes on" {
			return shown{.001, .01, .02, .25, .003}, "the shaft catches at the same place in pass after pass"
		}
		if f.Form == intoOneStop {
			here, _ := f.Measure("speed there over speed elsewhere")
			other, _ := f.Measure(atOtherStop)
			// The air of a blower that runs pushes a healthy door at one end too.
			good := .08
			switch ratio := here / other; {
			case ratio < 0.5:
				good = .01
			case ratio < 0.6:
				good = .025
			case ratio < 0.7:
				good = .035
			}
			return shown{good, .015, .015, .3, .003}, "hard into one stop and not into the other: a seal that swelled or a lip folded over; the foam at the other end tells what is usual here"
		}
		// Healthy doors and cams cost up to a quarter of the speed here or
		// there, seldom more, and mostly one way.
		good := .004
		switch factor, _ := f.Measure("speed there over speed elsewhere"); {
		case factor > 0.6:
			good = .024
		case factor > 0.45:
			good = .01
		}
		if f.Direction != None {
			good *= 1.5
		}
		if f.Seen < 2 {
			good *= 2
		}
		if f.Percent.From < 8 || f.Percent.To > 92 {
			// Seals: a stiff one and a swollen one differ by degrees, unless the
			// other end tells what is usual here.
			least := .05
			if f.has(atOtherStop) {
				least = .012
			}
			good = math.Max(2*good, least)
		}
		return shown{good, .01, .03, .3, .003}, "slow in one band of positions and normal elsewhere: load there, not a tired motor"
	case BentLine:
		return shown{.05, .1, .01, .06, .1}, "a leak from the wiper to a rail bends the line so, in the sensor or in the wiring; so does a crooked track, or a load that grows along the way"
	case BentTrack:
		if f.Form == runsBack {
			return shown{.0005, .4, .01, .004, .004}, "the reading turns round under a standing drive between the same levels, going up as going down: the shaft goes on, and the track tells the place wrongly there"
		}
		if f.Form == steepTrack {
			return shown{.002, .3, .003, .01, .003}, "faster in one stretch than the motor turns the shaft, both ways, and at one speed on either side of it: the track gives more volts to the turn there, which no door does"
		}
		return shown{.002, .3, .003, .004, .003}, "slow, and right beside that faster than the motor turns the shaft, at the same place both ways: no door does that, the track tells the place wrongly there"
	case StickSlip:
		return shown{.0008, .008, .04, .25, .003}, "the shaft stops and springs on all along the way: friction"
	case Pauses:
		if f.Form == "does not start" && f.has(pushesThere) {
			return shown{.0008, .003, .04, .2, .003}, "it came there and gets no further that way; each try presses it on a little and it springs back: the motor pulls, and something holds the door"
		}
		if f.Form == "does not start" && f.has(oneStand) {
			return shown{.0015, .006, .1, .1, .06}, "it came there and does not start again that way, try after try, where other drives passed: something that lies there now, or the motor or its feed that gave up there"
		}
		if f.Form == "does not start" && f.has(heldAtStall) {
			return shown{.0005, .003, .35, .06, .01}, "driven, it does not start where at other times it runs, and draws the current of a motor that is held: rotor or gears catch, or a stiff door; the feed is there and so are the brushes"
		}
		if f.Form == "does not start" {
			if f.Seen >= 4 {
				return shown{.0005, .005, .35, .02, .15}, "driven again and again it does not start where at other times it runs: brushes, or the feed to the motor"
			}
			return shown{.0015, .006, .28, .03, .1}, "driven, it does not start where at other times it runs: brushes, or the feed to the motor"
		}
		if f.Seen >= 4 {
			return shown{.0005, .006, .35, .03, .1}, "the shaft stands under drive many times at places that do not repeat, then goes on: an obstacle or a worn track stays where it is; brushes, a tired motor and a lead that opens do not"
		}
		return shown{.003, .01, .2, .05, .05}, "the shaft stands under drive at places that do not repeat, then goes on: brushes, gears or drive"
	case GearTurn:
		apart, _ := f.Measure("places of the two directions apart")
		places, _ := f.Measure("places over the travel")
		switch {
		case places < 4:
			return shown{.002, .004, .25, .06, .002}, "slow at three places evenly spaced along the way, the same both ways and in each pass: once per turn of a damaged gear, or a door that binds at three places"
		case apart > usualPlay*f.span:
			return shown{.002, .004, .2, .08, .002}, "slow at places evenly spaced along the way: a gear does that once per turn, but it lies elsewhere going up than going down; dry friction may, counted from where each pass began"
		case f.Passes < 3:
			return shown{.002, .004, .3, .04, .002}, "slow at places evenly spaced along the way, the same in each pass: once per turn of a damaged gear; a door binds at a place or two"
		}
		return shown{.001, .002, .35, .02, .001}, "slow at places evenly spaced along the way, the same in pass after pass: once per turn of a damaged gear; a door binds at a place or two"
	case WeakDrive:
		if f.Form == againstUsual {
			// Friction of a door seldom drags alike over all of its way.
			asSlow, _ := f.Measure("good ones as slow, for each tired one")
			return shown{.35 * asSlow, .004, .35, .05, .03}, "slower both ways than such actuators usually are; cold grease, a slow make or a low supply look the same"
		}
		return shown{.01, .004, .4, .15, .03}, "slower than a good one both ways and everywhere, more than drive, load and warmth explain: a tired motor, or a door that drags all along"
	case Heating:
		// A good motor that warms under a stiff door loses some speed as well.
		good := .003
		switch c, _ := f.Measure("change of speed, first to last sweep"); {
		case c > -10:
			good = .04
		case c > -13:
			good = .012
		}
		return shown{good, .004, .35, .03, .01}, "each sweep is slower than the last while the drive stays the same: a motor that heats"
	case LoadLost:
		if f.Form == passesStops {
			return shown{.002, .04, .008, .2, .003}, "from one moment on it passes both stops at which it stood before: they were the door's, which no longer hangs on it; of a sensor's scale that would take a step"
		}
		if f.Form != "" {
			return shown{.0005, .01, .01, .3, .002}, "from one moment on it runs faster both ways and further than before: the door no longer hangs on it"
		}
		if f.has("current fell by") {
			return shown{.003, .01, .02, .2, .005}, "from one moment on it runs faster and draws less current: it has lost a load; a supply that rose would draw more"
		}
		if f.Direction != None {
			return shown{.01, .01, .03, .15, .03}, "from one moment on it runs faster one way and not the other: a supply or warm grease would help both; a weight or a spring has come off"
		}
		if f.has(currentAsBefore) {
			return shown{.1, .01, .02, .02, .05}, "from one moment on it runs faster while its current stays: more volts, not less load"
		}
		if f.has("the drive's volts are not known") {
			return shown{.05, .01, .04, .1, .1}, "from one moment on it runs faster both ways; a supply that rose then does the same, and its volts were not logged"
		}
		return shown{.01, .01, .04, .12, .03}, "from one moment on it runs faster both ways at the same drive: a lost load, or grease that warmed"
	case GearSlip:
		if f.Form == turnsAndGoesOn {
			return shown{.0005, .02, .35, .015, .003}, "the shaft waits at the same place in pass after pass while the motor draws less than beside it: nothing hangs on it there, teeth are missing; a door that binds would load it"
		}
		if f.Form == "motor turns" {
			return shown{.0005, .06, .35, .01, .003}, "the reading stands while the current says that the motor turns: gears without teeth, or a sensor that lost its drive"
		}
		if f.Seen >= manySlips {
			return shown{.0003, .006, .3, .03, .001}, "the reading climbs and falls back at constant polarity, tooth after tooth: gear teeth let go"
		}
		return shown{.0005, .01, .25, .05, .002}, "the reading climbs and falls back at constant polarity: gear teeth let go"
	case OneWay:
		if f.Form != "" {
			return shown{.001, .005, .01, .01, .3}, "it answers one polarity and not the other, and the other comes with far fewer volts"
		}
		blind := f.has(onlyPolarity)
		switch {
		case f.has("no current that way"):
			return shown{.0005, .001, .02, .001, .5}, "driven that way the motor draws no current: that polarity does not reach it"
		case f.has(failsAtPlacesApart) && blind:
			return shown{.001, .01, .03, .02, .3}, "it answers one polarity and not the other, wherever it is: what stands in a door's way stands at one place"
		case f.has("moves the other way since") && blind:
			return shown{.001, .01, .03, .08, .2}, "it answers one polarity and not the other; whether that polarity reaches the motor was not logged"
		case f.has("moves the other way since"):
			return shown{.001, .01, .04, .1, .05}, "it answers one polarity and not the other although both reach it: an open lead would stop both"
		case f.has("rests at the end of the other direction") && blind:
			return shown{.001, .01, .03, .05, .3}, "it ran to one end and does not come back: one leg of the drive, or a door wedged there"
		case f.has("rests at the end of the other direction"):
			return shown{.001, .01, .1, .12, .05}, "it ran to one end and does not come back although both polarities reach it: wedged there, or gears"
		}
		return shown{.001, .01, .12, .08, .12}, "it stopped for good: since then neither polarity moved it"
	case NoMotion:
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
		case strings.HasPrefix(f.Form, "stall"):
			return shown{.0005, .005, .15, .25, .005}, "stall current without motion: gears or door are blocked"
		case strings.HasPrefix(f.Form, "running"):
			// A shaft that did turn would have come to a stop, and its motor to a stall.
			if long, ok := f.Measure(drivenOneWay); ok {
				if yet := goodAsLong(long, 0.2); yet < 0.15 { // chosen, not derived
					return shown{.0005, .4 * math.Max(yet, .02), .15, .003, .01}, fmt.Sprintf("the motor turns for %.0f s on end one way and is never stalled: a shaft that turned would have come to its stop, so gears let go; a sensor that lost its drive would leave the motor a stop to run into", long)
				}
			}
			return shown{.0005, .4, .15, .003, .02}, "the motor turns and the reading does not follow: sensor, or gears without a load"
		}
		if f.has(currentSilent) {
			return shown{.004, .04, .14, .06, .1}, "driven, and the reading does not move, and the current, as it was logged, would look alike of a motor that turns and of one that is blocked: motor, door, sensor or cable"
		}
		return shown{.004, .04, .14, .06, .1}, "driven, and the reading does not move: without the current this may be motor, door, sensor or cable"
	case NoDrive:
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
	case HalfDrive:
		if f.has(stepByStep) {
			// Who drives one way only does so whatever is broken (common practice,
			// no source).
			return shown{.06, .06, .06, .06, .2}, "only one polarity was driven, step by step: a leg of the drive that is dead, or nobody asked for the other way; if you did so yourself, drive it the other way"
		}
		return shown{.01, .01, .01, .01, .35}, "only one polarity was driven, again and again into a stop; if you did so yourself, drive it the other way"
	case AtRail:
		if f.Form == crushed && !f.has("follows the drive") {
			return shown{.0005, .15, .003, .003, .25}, "next to a rail, where no position lies: open or shorted, in the sensor or on its way"
		}
		if f.Form == crushed {
			return shown{.0005, .1, .003, .003, .35}, "next to a rail no wiper works: the sensor has lost its supply or its ground, on the way or in itself"
		}
		if strings.HasPrefix(f.Form, aboveSupply) {
			return shown{.0005, .01, .002, .002, .4}, "more volts than the sensor's supply has: most likely its wire touches one of the battery's or the motor's"
		}
		if strings.HasSuffix(f.Form, allTheTime) {
			return shown{.0005, .06, .003, .003, .3}, "the reading sits at a rail wherever the wiper is: a track wears at places, a wire or a supply fails everywhere; an open wiper would look the same"
		}
		if f.has(soundElsewhen) {
			return shown{.001, .02, .003, .003, .25}, "the reading sat at a rail while the shaft went over places that are read at other times: no track, a contact or a wire on its way"
		}
		return shown{.001, .15, .003, .003, .2}, "the reading sits at a rail, where no position lies: open or shorted, in the sensor or on its way"
	case RefLoss:
		if f.Form == wanders {
			return shown{.03, .008, .01, .01, .1}, "the sensor's supply goes slowly from one level to another: the reading goes with it, and so does what the control compares it with"
		}
		if f.Form == sinks {
			return shown{.004, .008, .004, .004, .1}, "the sensor's supply sinks by more than a regulator and an instrument are off by: the regulator gives way, or a wire or contact before the sensor loses ever more, unless a bench feeds the sensor from no regulator"
		}
		return shown{.001, .01, .002, .002, .4}, "the sensor's own supply does not hold still"
	case Play:
		return shown{.003, .006, .2, .05, .003}, "the motor turns and the shaft waits, after each reversal and wherever it is: gears, or what sits on the shaft, have play"
	case Ignored:
		if f.Form == bothRise {
			return shown{.002, .001, .003, .001, .5}, "the controller raises one lead to drive it, and the other rises with it through the motor: its way to ground is open, in the driver or the wire"
		}
		if f.Form == "now and then" {
			return shown{.002, .002, .01, .003, .45}, "the controller wants it driven and the drive is not there: a contact, a wire or the driver gives way, whatever the motor is like"
		}
		return shown{.0005, .001, .002, .001, .6}, "the controller wants it driven and the drive is not there: the driver or the wires behind it, whatever the motor is like"
	case Broken:
		switch f.Form {
		case brokenNoCurrent:
			return shown{.0005, .002, .06, .002, .4}, "the drive is there, no current flows and the shaft stands in the midst of its way: a lead or a contact opens; of brushes a motor that turns is carried on to the next bar"
		case brokenNoStart:
			return shown{.0008, .002, .3, .002, .2}, "driven from standstill no current flows, and at other times it does: brushes, or a lead that opens"
		case brokenMidway:
			return shown{.06, .01, .03, .015, .16}, "on its way the drive goes and comes back for moments of any length: somebody at the switch or at the panel, or a contact; whoever recorded it knows whether he let go"
		case brokenCoasts:
			return shown{.001, .002, .015, .002, .4}, "in the midst of its way the motor is open, where it is switched off it is held: that is not the control's own doing, a lead or the driver's contact opens"
		}
		return shown{.02, .004, .02, .008, .3}, "the drive goes and comes back in moments of any length, where a control goes by its clock: a contact or the driver, or somebody at the switch"
	case LastingLeap:
		if f.Form == leapUnseen {
			return shown{.003, .12, .006, .008, .04}, "from one moment on both stops read shifted by the same, the travel as long as before: no obstacle does that, nor a scale, nor a contact in the sensor's feed, which moves one stop more than the other. The wiper slipped on its shaft, or the ground of the instrument moved"
		}
		if f.has(stopsMoved) {
			if f.has(alikeFar) {
				return shown{.0005, .2, .002, .003, .03}, "no shaft moves in an instant, and since then it meets its stops shifted by just as much, wherever that is measured: a contact in the sensor's feed shifts one end more than the other. The wiper slipped on its shaft"
			}
			return shown{.0008, .15, .003, .006, .06}, "no shaft moves in an instant, and since then it meets its stop shifted by just as much: the wiper slipped on its shaft, or a contact in the sensor's feed is not what it was"
		}
		if f.has(neverBack) {
			return shown{.0008, .08, .004, .004, .2}, "no shaft moves in an instant. It leapt where the shaft went further than ever before, and nothing since drove the shaft back over that place: the track may end there, or a wire has opened"
		}
		if to, _ := f.Measure("to"); f.Form == leapStuck && (to < 0.03*f.ref || to > 0.97*f.ref) {
			return shown{.0008, .035, .004, .004, .3}, "no shaft moves in an instant, and since then the reading lies at a rail, driven to and fro: a wire or a contact is open, or shorted; a worn place would be left again"
		}
		if f.Form == leapStuck {
			return shown{.0008, .2, .004, .004, .25}, "no shaft moves in an instant, and what the reading shows since then does not follow the drive: open or shorted, in the sensor or on its way"
		}
		if f.has(leaptAtRest) {
			return shown{.0008, .03, .004, .006, .3}, "no shaft moves in an instant, and no track wears out standing still: from then on a wire or a contact is not what it was, or the sensor broke"
		}
		return shown{.0008, .12, .004, .006, .2}, "no shaft moves in an instant: from then on the sensor or its wires are not what they were"
	case DriveShift:
		if f.Form == underOneDrive {
			return shown{.003, .01, .004, .004, .4}, "no shaft moves in an instant, least of all against its drive: the wiper's wire touches a motor lead, or leaks to it"
		}
		return shown{.003, .01, .004, .004, .4}, "no shaft moves in an instant: motor current flows through the sensor's ground or pulls its supply down, or the instrument's own ground sits on a wire that carries motor current"
	case UnevenWays:
		volts, or := .25, ", or fewer volts that way"
		if f.has("at the same volts") {
			volts, or = .005, ""
		}
		if f.Form != "" {
			return shown{.01, .001, .25, .001, volts}, "with nothing on the shaft it runs slower one way: the motor's brushes or gears" + or
		}
		if r, _ := f.Measure("slower that way"); r >= 1.5*mostUneven {
			return shown{.002, .001, .12, .15, volts}, "several times slower one way all along the travel: no door's weight or spring makes that; a door that drags that way, or a motor whose brushes fail it in one sense" + or
		}
		return shown{.015, .001, .04, .15, volts}, "slower one way all along the travel, by more than a door's weight or spring usually makes: a door that drags that way, or a motor" + or
	case HeavyDrag:
		if f.Form == nothingOnShaft {
			return shown{.002, .001, .4, .001, .02}, "with nothing on the shaft it takes more than half of the motor's torque to run: the gears or the motor itself drag"
		}
		return shown{.004, .001, .25, .25, .015}, "it takes far more of the motor's torque to run than a good door and gears ask for: one of them drags"
	case FeedResists:
		return shown{.0008, .001, .15, .001, .35}, "held, the motor draws far less at the same volts than at the other times, and running as much: its circuit has got more resistance, a contact or a wire before it, or its brushes"
	case SupplySag:
		return supplyLikelihood(f)
	case SelfMotion:
		if f.Form == yetItTravels {
			return shown{.1, .1, .1, .1, .1}, "moved by hand, or driven while the drive's clip was off its lead: it tells nothing of the actuator"
		}
		return shown{.004, .02, .01, .03, .2}, "the reading travels while no drive is seen"
	}
	return shown{.05, .05, .05, .05, .05}, ""
}
