package analyze

// One finder writes these words and another file tests them: a slip in one of them would
// silently change a likelihood. They are part of the output.

// Names of measures that are tested as flags, in the likelihoods, the words or the joins.
const (
	restsAtOtherEnd  = "rests at the end of the other direction"
	movesOtherWay    = "moves the other way since"
	noCurrentThatWay = "no current that way"
	ranBackFreely    = "ran back freely"
	reachedLater     = "reached later only"
	stallFarInside   = "stall far inside the supply"
	stallSpread      = "stall spread"
	leftAtOnce       = "leaves at once"
	otherEndSettles  = "the other end settles"
	triesOfCheck     = "tries of the position check"
	otherEndAsFar    = "the other end is as far inside"
	paceOfShort      = "the longest travel at its pace"
	usualOnLowSupply = "usual for a sensor on 3.3 V"
	fallsUnderLoad   = "falls further under load"
	followsDrive     = "follows the drive"
	atSameVolts      = "at the same volts"
	driveUnknown     = "the drive's volts are not known"
	supplyStayed     = "the supply stayed as it was"
	startedLate      = "started late"
	changeOfSpeed    = "change of speed, first to last sweep"
)

// Forms of jams.
const (
	jamOnePlace       = "at one place"
	jamScattered      = "at scattered places"
	jamPassed         = "passed later"
	jamOnce           = "once"
	jamNotPast        = "once, and not past it"
	jamStopLost       = "no longer reached"
	jamFarInside      = "far inside the supply"       // begins or ends forms
	jamDriven         = "driven into again and again" // begins or ends forms
	jamShortOfProfile = "short of the profile's stop" // begins or ends forms
	jamShortSooner    = "short of the profile's stop, in less time"
)

// Forms of other findings that more than one file knows.
const (
	openTrack           = "open"
	noCurrentFlows      = "no current"      // begins or ends forms
	stallCurrent        = "stall current"   // begins or ends forms
	turningCurrent      = "running current" // begins or ends forms
	inOneStep           = "in one step"     // begins or ends forms
	sagSupply           = "supply"
	scaleOff            = "scale"
	stopsShifted        = "offset"
	refAbsent           = "absent"
	lowLevel            = "low"
	motorTurns          = "motor turns"
	railToRail          = "rail to rail"
	doesNotStart        = "does not start"
	standsAndGoes       = "stands and goes on"
	fewVolts            = "few volts"
	beyondProfileSlower = "beyond the profile's stop, in more time"
	weakAgainstProfile  = "against the profile"
	lossFewApart        = "few, apart"
	lossAtRestToo       = "at rest too"
	lossNoPlace         = "at no fixed place"
	withDirection       = "with the direction"
	huntLowEnd          = "at the low end"
	huntHighEnd         = "at the high end"
	huntMidTravel       = "in mid travel"
	huntUnknown         = "span unknown"
	bothEndsAlike       = "both ends alike"
	nowAndThen          = "now and then"
)
