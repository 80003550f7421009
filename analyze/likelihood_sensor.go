package analyze

import (
	"fmt"
	"math"
	"strings"
)

// How findings about the feedback sensor bear on each fault,
// in the order of [Faults]; see [shown].

func deadSpotLikelihood(f *Finding) (shown, string) {
	switch {
	case f.Form == railToRail:
		return shown{.0005, .5, .002, .001, .01}, "from rail to rail with the direction of drive: the track itself is broken through, no contact outside it does that"
	case f.Form == openTrack && f.Seen <= 2 && f.departs() < 0.02*f.ref:
		return shown{.02, .15, .01, .008, .04}, fmt.Sprintf("the reading left the track by only %s, %s at one place: a worn place, or sparks of the motor that fell together", f.amountOf(MeasureDeparture), timesText(f.Seen))
	case f.Tie == TiedToPosition && f.Seen <= 2:
		return shown{.001, .5, .003, .004, .08}, "the same piece of track failed twice; two losses of a loose contact seldom fall in one place"
	case f.Tie == TiedToPosition:
		return shown{.0005, .6, .002, .003, .006}, "the same piece of track fails pass after pass while the shaft keeps moving: that is the track, not the door or the cable"
	case f.Form == openTrack && f.departs() < 0.1*f.ref:
		return shown{.006, .15, .005, .005, .06}, "the signal left the track a little, once: a worn place, a bad contact or interference"
	case f.Form == openTrack && f.Seen == 1:
		return shown{.004, .3, .005, .005, .08}, "the signal left the track and came back further on, once; one sighting does not separate the track from a bad contact"
	case f.Form == openTrack:
		return shown{.001, .3, .005, .005, .06}, "the signal left the track and came back further on, so the shaft had moved; one sighting does not separate the track from a bad contact"
	}
	return shown{.004, .3, .02, .04, .01}, "the reading stood and then jumped by what the shaft should have moved"
}

func noisyTrackLikelihood(f *Finding) (shown, string) {
	if f.Form == roughOneWay {
		return roughOneWayLikelihood(f)
	}
	if f.Form == noisyStretch {
		return shown{.001, .3, .004, .004, .01}, "moving or at rest, the signal is lost while the wiper is in one stretch of its track and nowhere else: a contact in the cable does not know where the wiper is"
	}
	if f.Form == roughEverywhere {
		if f.has(noFurtherOff) {
			// The more there is of it, the fewer sound installations are left.
			good := .3
			if s, _ := f.Measure(MeasureScatterMoving); s > 0.01*f.ref {
				good *= math.Pow(0.01*f.ref/s, 3)
			}
			return shown{good, .1, .01, .003, .04}, "the reading scatters evenly wherever the wiper is, as long as it moves: a wiper's own contact, or what the motor's brushes send into the wires"
		}
		if off, _ := f.Measure(MeasureOneInHundredOff); f.has(offBothWays) {
			// A contact goes to one side: both need a wire that hangs on no level. What
			// the wires pick up is the sparks' volts, divided by their capacities: few
			// let through much (that twice as much comes a quarter as often is chosen).
			// However far it goes, it speaks no more of a contact than of these, and
			// stays open.
			good := math.Max(.05, .3*math.Pow(math.Min(1, 0.05*f.ref/off), 2))
			return shown{good, .05, .03, .003, .04}, "now and then the reading is far off, to either side, as long as the shaft moves: most likely sparks of the motor's brushes that the wires pick up, as a contact that opens goes to one side; the sensor measured in its plug, the motor not driven, tells"
		}
		return shown{.001, .3, .02, .003, .04}, "the reading scatters wherever the wiper is, as long as it moves, and is quiet where it stands: the wiper's own contact"
	}
	// Below its usual speed the reading never turns back, so the shaft can have made it.
	if x, ok := f.Measure(scatterAsSpeed); ok && x < 1 {
		return shown{.008, .06, .02, .06, .004}, "the reading goes unevenly at a place, pass after pass, and never against the drive: a track that is rough there, or a shaft that sticks and slips there; the door off its actuator tells"
	}
	if x, ok := f.Measure(MeasureOutputSmoothness); ok && x < 1 {
		if f.Passes < 2 {
			return shown{.008, .2, .006, .006, .01}, "a place on the track is a little rougher than the rest"
		}
		return shown{.008, .2, .006, .006, .01}, "a place on the track is a little rougher than the rest, pass after pass"
	}
	return shown{.002, .3, .004, .004, .01}, "the noise belongs to a place on the track and returns with each pass"
}

func endLossLikelihood(f *Finding) (shown, string) {
	if h, _ := f.Measure(MeasureHiddenTravel); h < 0.06*f.span {
		return shown{.01, .14, .02, .05, .008}, "after the reversal the reading stood a little: the track ends before the shaft does, or slack and a springy stop give way"
	}
	return shown{.002, .2, .01, .02, .004}, "after the reversal the reading stood as long as the shaft needs to come back: the track ends before the shaft does"
}

func dropoutsLikelihood(f *Finding) (shown, string) {
	if f.has(singleRows) {
		// A contact seldom lets go for less than a row each time, and to no level.
		return shown{.1, .03, .02, .004, .1}, "single readings are off while it is driven, to no level and none of them at rest: a contact that lets go for moments, or sparks of the motor's brushes that the wires pick up; the sensor measured in its plug, the motor not driven, tells"
	}
	switch f.Form {
	case lossAtRestToo:
		return shown{.002, .03, .004, .002, .4}, "the signal is lost while the shaft rests: no track wears out standing still, a contact in the cable does come and go"
	case whileItMoves:
		return lossesInMotion(), "the signal is lost here and there, but hardly ever while the shaft rests: the wiper's contact, or a connector that the motor shakes"
	case asDriveStarts:
		return shown{.001, .06, .006, .006, .3}, "the signal is lost as the drive sets out, wherever the shaft stands then, and the same places are read well in passing: a wire or a plug that the first jerk of the drive moves, less often a wiper that it shakes off its track"
	case lossNoPlace:
		return strewnLosses(f)
	}
	if f.Form == lossFewApart {
		return shown{.005, .06, .008, .008, .25}, "two losses of signal at places far apart, where other passes are clean"
	}
	switch {
	case f.Seen == 1 && f.has(MeasureLongest):
		// Seldomer on a sound actuator than interference, which is over sooner: as two
		// single losses (chosen).
		return shown{.015, .1, .01, .01, .15}, fmt.Sprintf("a single loss of signal, for %.2g s: too long for interference; a clip of the instrument that slipped can look the same", f.value(MeasureLongest))
	case f.Seen == 1:
		return shown{.05, .1, .01, .01, .15}, "a single loss of signal: interference can look the same"
	case f.Seen == 2:
		return shown{.015, .1, .01, .01, .15}, "single losses of signal, too few to say whether they belong to a place"
	}
	return shown{.006, .1, .01, .01, .15}, "single losses of signal, too few to say whether they belong to a place"
}

// lossesInMotion is what losses show that come while the shaft moves and hardly ever else.
func lossesInMotion() shown { return shown{.001, .2, .006, .006, .08} }

// strewnLosses weighs losses at no place. Where all of them come while the shaft moves, the
// less chance makes of that with a contact that lets go at any time, the nearer they are to
// losses that keep to the motion: in proportion to its logarithm, which is what each loss
// more adds to, up to the chance from which that is sure.
func strewnLosses(f *Finding) (shown, string) {
	l := shown{.001, .03, .006, .004, .4}
	chance, ok := f.Measure(sparesRests)
	if !ok {
		return l, "the losses come at times and not at places"
	}
	near := math.Min(1, math.Log(chance)/math.Log(sparesForSure))
	for i, in := range lossesInMotion() {
		l[i] = math.Pow(l[i], 1-near) * math.Pow(in, near)
	}
	return l, fmt.Sprintf("the losses come at times and not at places, but none while the shaft rests (%s): a contact in the cable, or the wiper's", oddsText(chance))
}

func spanDriftLikelihood(f *Finding) (shown, string) {
	switch {
	case f.Form == byPace:
		return shown{.001, .2, .005, .005, .03}, "the further apart the stops read, the faster the reading goes between them, both ways: the sensor's scale changes, neither the travel nor the motor"
	case f.Form == byRests:
		return shown{.001, .2, .005, .005, .03}, "where the shaft stands undriven the reading creeps towards one end, at the rate at which the passes read slower: the sensor's scale changes, not the motor"
	case f.Form == byTravelTime:
		return shown{.001, .3, .005, .004, .03}, "strokes take as long as before and read differently: the sensor's scale changes, neither the travel nor the motor"
	case f.Form == inProportion:
		return shown{.004, .1, .004, .003, .1}, "both ends moved in proportion: the sensor's scale, or its supply, which a regulator holds to a few percent and a bad contact does not"
	case f.Form == byStands:
		return shown{.006, .08, .004, .004, .06}, "pressed one way or the other the reading creeps the same way, at the same pace: the shaft does not move, the reading does; sensor, ground or instrument offset"
	case f.Form == bothEndsAlike:
		return shown{.006, .08, .01, .02, .06}, "both ends moved alike: sensor, ground or instrument offset"
	}
	if strings.HasSuffix(f.Form, "in one step") {
		return shown{.002, .12, .006, .08, .02}, "one end lies further out from one moment on: the sensor's scale, or a door that lets the actuator go further"
	}
	return shown{.001, .25, .006, .01, .01}, "the ends of the reading wander, and the travel time does not go with them: the sensor's scale changes, not the travel"
}

// soundLinearity is the standard deviation, in % of the span, of the independent
// linearity of sound tracks: 3 %, twice as much, is what the cheapest are given for
// (common practice, no source). builtBent is the share of actuators whose line is bent
// by the way that they are built, a crank before the sensor for one (chosen).
const (
	soundLinearity = 1.5
	builtBent      = 0.02
)

func bentLineLikelihood(f *Finding) (shown, string) {
	sound, why := .05, "a leak from the wiper to a rail bends the line so, in the sensor or in the wiring; so does a crooked track, or a load that grows along the way"
	if off, ok := f.Measure(MeasureLinearity); ok && off > 2*soundLinearity {
		sound = math.Max(sound*math.Exp(2-off*off/(2*soundLinearity*soundLinearity)), builtBent)
		why = fmt.Sprintf("up to %.0f %% of the span off a straight line, where a sound track keeps within %.0f %%: %s", off, 2*soundLinearity, why)
	}
	if f.Form == bentLoaded {
		// No load along the way puts a stop back to where stops lie.
		return shown{sound, .1, .01, .02, .1}, "a leak from the wiper to a rail, in the sensor or in the wiring, makes the speeds along the travel and the place of the stop alike, and a control that aims beyond it drives on in vain; so may a crooked track"
	}
	return shown{sound, .1, .01, .06, .1}, why
}

func bentTrackLikelihood(f *Finding) (shown, string) {
	if f.Form == runsBack {
		return shown{.0005, .4, .01, .004, .004}, "the reading turns round under a standing drive between the same levels, going up as going down: the shaft goes on, and the track tells the place wrongly there"
	}
	if f.Form == steepTrack {
		return shown{.002, .3, .003, .01, .003}, "faster in one stretch than the motor turns the shaft, both ways, and at one speed on either side of it: the track gives more volts to the turn there, which no door does"
	}
	return shown{.002, .3, .003, .004, .003}, "slow, and right beside that faster than the motor turns the shaft, at the same place both ways: no door does that, the track tells the place wrongly there"
}

func atRailLikelihood(f *Finding) (shown, string) {
	if f.Form == crushed && f.has(followsDrive) {
		return shown{.0005, .1, .003, .003, .35}, "next to a rail no wiper works: the sensor has lost its supply or its ground, on the way or in itself"
	}
	if strings.HasPrefix(f.Form, aboveSupply) {
		return shown{.0005, .01, .002, .002, .4}, "more volts than the sensor's supply has: most likely its wire touches one of the battery's or the motor's"
	}
	// Driven to and fro, or once only: the curve is the same line either way.
	if f.Form == crushed || strings.HasSuffix(f.Form, allTheTime) {
		return shown{.0005, .06, .003, .003, .3}, "the reading sits at a rail wherever the wiper is: a track wears at places, a wire or a supply fails everywhere; an open wiper would look the same"
	}
	if f.has(soundElsewhen) {
		return shown{.001, .02, .003, .003, .25}, "the reading sat at a rail while the shaft went over places that are read at other times: no track, a contact or a wire on its way"
	}
	return shown{.001, .15, .003, .003, .2}, "the reading sits at a rail, where no position lies: open or shorted, in the sensor or on its way"
}

func lastingLeapLikelihood(f *Finding) (shown, string) {
	if f.Form == leapUnseen {
		return shown{.003, .12, .006, .008, .04}, "from one moment on both stops read shifted by the same, the travel as long as before: no obstacle does that, nor a scale, nor a contact in the sensor's feed, which moves one stop more than the other. The wiper slipped on its shaft, or the ground of the instrument moved"
	}
	if f.Form == leapStood {
		return shown{.003, .12, .012, .006, .03}, "driven on its way the reading stood, and since then both stops read shifted by about the way the shaft makes in that time: it went on. A motor that stands shifts no stop, and an obstacle only one. The wiper slipped on its shaft"
	}
	if f.has(stopsMoved) {
		if f.has(alikeFar) {
			return shown{.0005, .2, .002, .003, .03}, "no shaft moves in an instant, and since then it meets its stops shifted by just as much, wherever that is measured: a contact in the sensor's feed shifts one end more than the other. The wiper slipped on its shaft"
		}
		return shown{.0008, .15, .003, .006, .06}, "no shaft moves in an instant, and since then it meets its stop shifted by just as much: the wiper slipped on its shaft, or a contact in the sensor's feed is not what it was"
	}
	if f.has(readSince) {
		return shown{.001, .12, .015, .006, .04}, "no shaft moves in an instant, the reading ran up to the leap and goes on from it, and what it leapt over was read on another pass: no dead spot. The wiper slipped on its shaft, or a contact in the sensor's feed is not what it was"
	}
	if f.has(neverBack) {
		return shown{.0008, .08, .004, .004, .2}, "no shaft moves in an instant. It leapt where the shaft went further than ever before, and nothing since drove the shaft back over that place: the track may end there, or a wire has opened"
	}
	if to, _ := f.Measure(MeasureTo); f.Form == leapStuck && (to < 0.03*f.ref || to > 0.97*f.ref) {
		return shown{.0008, .035, .004, .004, .3}, "no shaft moves in an instant, and since then the reading lies at a rail, driven to and fro: a wire or a contact is open, or shorted; a worn place would be left again"
	}
	if f.Form == leapStuck {
		return shown{.0008, .2, .004, .004, .25}, "no shaft moves in an instant, and what the reading shows since then does not follow the drive: open or shorted, in the sensor or on its way"
	}
	if f.Form == leapLate {
		return shown{.006, .08, .012, .006, .2}, "no shaft moves in an instant, nor against its drive; no drive since tells whether the reading still follows. The sensor or its wires are not what they were, or the instrument's clip was touched"
	}
	if f.has(leaptAtRest) {
		return shown{.0008, .03, .004, .006, .3}, "no shaft moves in an instant, and no track wears out standing still: from then on a wire or a contact is not what it was, or the sensor broke"
	}
	return shown{.0008, .12, .004, .006, .2}, "no shaft moves in an instant: from then on the sensor or its wires are not what they were"
}
