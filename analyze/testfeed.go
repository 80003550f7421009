package analyze

import "slices"

// measureFeed is the name of the test that finds where the motor's volts are lost.
const measureFeed = "Measure where the motor's volts are lost"

// feedLosses is the test for a feed that gives way under load. A contact with too much
// resistance shows between its two ends only while current flows, most of it while the
// motor is held; no ohmmeter finds it, for it feeds a thousandth of that current. A fuse, a
// switch and some metres of wire may cost half a volt on either side of the motor ([contactDrop]), and a sag that is found loses more than both: a stretch that alone
// costs as much is the bad one. A motor that draws too much takes its share from each
// stretch, and a control that turns the drive down takes nothing from any.
func feedLosses() trial {
	return trial{
		name: measureFeed, minutes: 15,
		procedure: []string{
			"Leave everything plugged in and probe the plugs from behind. Ask at the control panel for one end of the way until the actuator is held at its stop, and read the meter then; where the control soon switches off there, use the meter's peak hold. The same for the other end.",
			"One meter lead at either end of the same wire: each motor lead, from the control unit's pin to the actuator's; then the unit's ground pin to the battery's negative post, and the battery's positive post to the unit's supply pin.",
			"A stretch that costs a volt or more while the motor is held, and nothing at rest, has the bad contact: go along it, plug by plug, with one meter lead.",
			"If none does, compare the volts at the unit's supply with those between its two motor pins: a volt or two is usual, more is lost in the unit, unless it turns the drive down at the stops. If nothing is lost there either, the motor draws too much.",
		},
		cautions: []string{cautionAirbag, cautionLive, cautionPinch, cautionGround},
		outcomes: []outcome{
			{"one stretch costs a volt or more while the motor is held", shown{.03, .03, .15, .03, .8}},
			{"none does", shown{.97, .97, .85, .97, .2}},
		},
		pointless: func(c *Capture) bool {
			return !slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.losesInFeed() || f.Kind == FeedResists })
		},
	}
}

// losesInFeed tells whether the motor gets fewer volts for as long as it draws current, so
// that a meter finds where they are lost. What comes and goes is gone when the meter is
// there; of what has fallen or runs down at rest as well, the supply is asked first; where
// hardly any volts are left, it is asked whether they arrive at all.
func (f *Finding) losesInFeed() bool {
	if f.Kind != SupplySag {
		return false
	}
	switch f.Form {
	case shorted, triesByClock, comesAndGoes, supplyBySpells, supplyFallen, runsDown, hardlyAnyLeft:
		return false
	}
	return true
}

// ofKinds tells whether a finding is of one of the kinds.
func ofKinds(kinds ...Kind) func(*Finding) bool {
	return func(f *Finding) bool { return slices.Contains(kinds, f.Kind) }
}
