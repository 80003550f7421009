package analyze

import "slices"

// measureScale is the name of the test that tells a sensor whose scale or zero is off from
// its supply and its ground.
const measureScale = "Measure the sensor's supply with everything plugged in"

// sensorFeed is that test. A pin with too much resistance costs volts only while the track
// draws its current, half a milliampere and more, so it shows with the plug on its socket and
// to a meter, which draws a thousandth of that. The outcomes are judged for readings that are
// off as a whole: of the wiring's faults few but these make that.
func sensorFeed() trial {
	return trial{
		name: measureScale, minutes: 5,
		procedure: []string{
			"Leave everything plugged in, switch the ignition on and probe the actuator's plug from behind: the volts between the sensor's reference wire and its ground wire, at rest and while the motor is held at a stop.",
			"Then the same two wires at the control unit's plug, and the actuator's sensor ground against the battery's negative post.",
			"About 5 V at the unit and less at the actuator, or a ground a tenth of a volt off: the wire or a plug between them. Less at the unit too: the unit, or another sensor that loads the same supply.",
		},
		cautions: []string{cautionAirbag, cautionLive, cautionPinch},
		outcomes: []outcome{
			{"about 5 V arrive, and the ground is the battery's", shown{.97, .96, .97, .97, .2}},
			{"volts are lost on the way, or at the unit", shown{.03, .04, .03, .03, .8}},
		},
		answered:  func(c *Capture) bool { return c.refLogged },
		pointless: func(c *Capture) bool { return !c.offAsAWhole() },
	}
}

// offAsAWhole tells whether a finding may be what a changed supply or ground of the sensor
// makes of all its readings: stops that lie elsewhere, both of them, or where hardly one lies.
func (c *Capture) offAsAWhole() bool {
	return slices.ContainsFunc(c.Findings, func(f Finding) bool {
		switch f.Kind {
		case SpanDrift:
			return f.Form == inProportion || f.Form == bothEndsAlike || f.Form == byStands || f.Form == scaleOff || f.Form == byPace || f.Form == byTravelTime
		case SpanShift:
			return f.Form == stopsShifted || f.Form == scaleOff
		}
		return f.Kind == RefLoss || f.blamesStop()
	})
}
