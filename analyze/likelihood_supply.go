package analyze

// supplyLikelihood is that of volts that do not reach the motor.
func supplyLikelihood(f *Finding) (shown, string) {
	if f.Form == triesByClock {
		if !f.has(otherWayHeld) {
			return shown{.0005, .0005, .1, .001, .35}, "the driver tries the drive for a moment, gets a part of its volts, waits and tries again: it limits its current into a short. The leads touch each other or ground, or the motor's winding is shorted"
		}
		return shown{.0005, .0005, .015, .001, .4}, "the driver tries the drive for a moment, gets a part of its volts, waits and tries again, one way only: it limits its current into a short. A lead touches ground; a shorted winding is as short the other way"
	}
	if f.Form == shorted {
		return shown{.0005, .0005, .1, .001, .4}, "a current flows and hardly any volts are left: the leads touch each other or ground, or the motor's winding is shorted; no sound motor has so little resistance. Do not drive it on; unplug the actuator: what stays is in the wiring, and ohms across the motor's pins tell of the motor"
	}
	if f.Form == onePolarity {
		if f.has(fewerSince) {
			return shown{.012, .002, .01, .003, .3}, "one polarity gets far fewer volts from that moment on, drive after drive, while the other keeps its own between them: resistance or a weak switch in one leg of the drive; the supply feeds both"
		}
		if f.has(fallsUnderLoad) {
			return shown{.01, .002, .01, .003, .3}, "one polarity gets fewer volts, and fewer still under load: resistance in that leg"
		}
		if f.has(farFewerVolts) {
			return shown{.006, .002, .01, .003, .3}, "one polarity gets far fewer volts in every move, and pulses take none of them: resistance or a weak switch in one leg of the drive"
		}
		return shown{.1, .002, .01, .003, .3}, "one polarity gets fewer volts in every move: resistance in one leg of the drive, unless it was set so"
	}
	switch {
	case f.Form == hardlyAnyLeft:
		return shown{.002, .001, .03, .001, .35}, "far fewer volts than such a motor starts on, either way, and all of them were there before: a contact, a supply or the control's output lets go; a motor that is shorted could hold them down"
	case f.Form == sagsWhileDriven:
		return shown{.012, .002, .008, .002, .25}, "the longer it is driven the fewer volts the motor gets, and after a rest they are back: a supply, a fuse or a contact that gives way to a current that lasts; neither the shaft nor its load changes them"
	case f.Form == comesAndGoes:
		return shown{.008, .003, .01, .003, .3}, "for seconds the motor gets far fewer volts, whatever the shaft does, and in the midst of a drive they come back: a contact or a switch that gives way, or something else that pulls the supply down; a control that slows down has no reason to hurry again on the way"
	case f.Form == supplyBySpells:
		return shown{.01, .002, .006, .002, .3}, "again and again the supply falls to what no sound battery shows and comes back, at moments that are none of the drive's: a contact in the feed or the ground, or something else that pulls it down; the actuator does not"
	case f.Form == supplyFallen:
		return shown{.03, .002, .006, .002, .3}, "the supply itself falls to what no sound battery shows and stays there, at rest as under load: its contacts, fuse, ground or battery, unless it was turned down by hand just then; the actuator does not"
	case f.Form == lowerFromThenOn:
		return shown{.04, .003, .015, .003, .3}, "from one rest on the motor gets far fewer volts, both ways alike: a contact or a supply that gives way, unless the supply was turned down by hand just then"
	case f.Form == neverFull:
		return shown{.02, .003, .01, .003, .3}, "the supply is there and not half of it arrives at the motor, either way and however loaded: the control's output or what feeds it, unless the control means to (by pulses that the instrument averages) or a lead's probe divides; a second instrument at the leads tells"
	case f.Form == runsDown:
		return shown{.04, .003, .015, .003, .3}, "drive after drive the motor gets fewer volts, both ways alike, and no rest brings them back: a contact or a supply that gives way, or a battery of the test that runs flat; measure the supply first"
	case f.has(supplyHolds) && !f.has(holdsUnderWay):
		return shown{.003, .004, .015, .004, .3}, "the supply holds and the motor gets less the more it draws: resistance between the two, in a plug, a splice or the control's output, unless a control turns it down there"
	case f.has(givesUnderWay):
		return shown{.003, .004, .03, .004, .3}, "the motor gets less than the controller sends, at the stops and, with the load, under way: resistance in the feed, or a motor that draws too much for it; a bench supply at its current limit gives way at the stops alone"
	case f.has(holdsUnderWay):
		return shown{.2, .005, .02, .005, .05}, "at the stops the motor gets less than under way, and under way its volts hold whatever the load: a supply at its current limit does that, a bad contact would give way there as well"
	case f.Form == sagAsLimit:
		return shown{.04, .005, .02, .005, .3}, "at the stops the motor gets less than the controller sends: a bad contact, or a bench supply at its current limit"
	}
	if f.Form == sagAtStarts && f.value(MeasureDropUnderLoad) > 100*limitDrop {
		// A limit that low shows at each start, and whoever set it hears it: rarer than
		// one that is met at the stops alone (judgement, no source).
		return shown{.01, .004, .01, .004, .3}, "at the stops and at each start the motor gets less than the controller sends, and more while it runs: a bad contact in the feed, or a bench supply whose current limit lies far below what the motor takes to start"
	}
	return shown{.002, .004, .01, .004, .3}, "the motor gets less than the controller sends"
}
