package analyze

// How findings about the motor and its gears bear on each fault,
// in the order of [Faults]; see [shown].

func pausesLikelihood(f *Finding) (shown, string) {
	if f.Form == doesNotStart && f.has(pushesThere) {
		return shown{.0008, .003, .04, .2, .003}, "it came there and gets no further that way; each try presses it on a little and it springs back: the motor pulls, and something holds the door"
	}
	if f.Form == doesNotStart && f.has(oneStand) {
		return shown{.0015, .006, .1, .1, .06}, "it came there and does not start again that way, try after try, where other drives passed: something that lies there now, or the motor or its feed that gave up there"
	}
	if f.Form == doesNotStart && f.has(heldAtStall) {
		return shown{.0005, .003, .35, .06, .01}, "driven, it does not start where at other times it runs, and draws the current of a motor that is held: rotor or gears catch, or a stiff door; the feed is there and so are the brushes"
	}
	if f.Form == doesNotStart && f.has(drawsNothing) && f.Seen < 4 {
		why := "driven, it does not start where at other times it runs, and draws no current: its circuit is open then, at the brushes, in a lead or in what drives it; no door does that"
		if f.Seen == 1 { // brushes fail again, and so does a lead: once tells neither
			return shown{.002, .006, .2, .004, .17}, why
		}
		return shown{.0015, .006, .28, .004, .15}, why
	}
	if f.Form == doesNotStart {
		if f.Seen >= 4 {
			return shown{.0005, .005, .35, .02, .15}, "driven again and again it does not start where at other times it runs: brushes, or the feed to the motor"
		}
		return shown{.0015, .006, .28, .03, .1}, "driven, it does not start where at other times it runs: brushes, or the feed to the motor"
	}
	if f.Seen >= 4 {
		return shown{.0005, .006, .35, .03, .1}, "the shaft stands under drive many times at places that do not repeat, then goes on: an obstacle or a worn track stays where it is; brushes, a tired motor and a lead that opens do not"
	}
	if f.Seen == 1 {
		return shown{.003, .01, .12, .06, .07}, "the shaft stands under drive on its way, once, and goes on: no sound one does, but one time tells no place from a moment"
	}
	return shown{.003, .01, .2, .05, .05}, "the shaft stands under drive at places that do not repeat, then goes on: brushes, gears or drive"
}

func gearTurnLikelihood(f *Finding) (shown, string) {
	apart, _ := f.Measure(MeasurePlacesApart)
	places, _ := f.Measure(MeasurePlaces)
	switch {
	case f.Form == madeInSteps && f.has(standsAThird):
		return shown{.01, .012, .012, .01, .01}, "the reading stands at levels of one spacing all along the way, the same both ways, and for longer than a gear stands that lacks three of its ten teeth: a track made in steps does that; wear is not spaced so evenly"
	case f.Form == madeInSteps:
		return shown{.006, .02, .015, .004, .002}, "the reading advances in steps of one size all along the way while the motor draws as much as beside them: a gear that holds would load it, one whose teeth are missing would unload it; a track made in steps, or worn so, does neither"
	case f.Form == afterEqualTurns:
		return shown{.002, .004, .3, .04, .002}, "stands after equal turns of the motor along the whole way, and goes on from each at its usual pace: once per turn of a damaged gear; dry friction springs on, and a door binds at a place or two"
	case places < 4:
		return shown{.002, .004, .25, .06, .002}, "slow at three places evenly spaced along the way, the same both ways and in each pass: once per turn of a damaged gear, or a door that binds at three places"
	case apart > usualPlay*f.span:
		return shown{.002, .004, .2, .08, .002}, "slow at places evenly spaced along the way: a gear does that once per turn, but it lies elsewhere going up than going down; dry friction may, counted from where each pass began"
	case f.Passes < 3:
		return shown{.002, .004, .3, .04, .002}, "slow at places evenly spaced along the way, the same in each pass: once per turn of a damaged gear; a door binds at a place or two"
	}
	return shown{.001, .002, .35, .02, .001}, "slow at places evenly spaced along the way, the same in pass after pass: once per turn of a damaged gear; a door binds at a place or two"
}

func weakDriveLikelihood(f *Finding) (shown, string) {
	if f.Form == againstUsual {
		// Friction of a door seldom drags alike over all of its way.
		asSlow, _ := f.Measure(MeasureGoodAsSlow)
		return shown{.35 * asSlow, .004, .35, .05, .03}, "slower both ways than such actuators usually are; cold grease, a slow make or a low supply look the same"
	}
	return shown{.01, .004, .4, .15, .03}, "slower than a good one both ways and everywhere, more than drive, load and warmth explain: a tired motor, or a door that drags all along"
}

func heatingLikelihood(f *Finding) (shown, string) {
	// A good motor that warms under a stiff door loses some speed as well.
	good := .003
	switch c, _ := f.Measure(changeOfSpeed); {
	case c > -10:
		good = .04
	case c > -13:
		good = .012
	}
	// A battery that feeds a vehicle with its engine off falls by a volt or so, 8 to 10 %,
	// from the charge it was just given towards empty (common practice, no source); at a
	// third of its stall torque a motor loses one and a half times that.
	if c, _ := f.Measure(changeOfSpeed); f.Form == voltsUnseen && c > -15 {
		return shown{.1, .004, .3, .03, .03}, "pass by pass it gets slower, by no more than a battery takes of its speed that runs down by a volt: the volts were not logged. Log them beside it; or feed it from a charger"
	}
	if f.Form == inFewSweeps {
		return shown{good, .004, .3, .03, .015}, "all along the way the motor gets slower from its first pass on, while the drive stays the same: one that heats; a load that changes takes less of its speed"
	}
	return shown{good, .004, .35, .03, .01}, "pass by pass it gets slower while the drive stays the same: a motor that heats"
}

func gearSlipLikelihood(f *Finding) (shown, string) {
	if c, ok := f.Measure(currentBeside); ok && c > 0.85 && f.Form == turnsAndGoesOn {
		return shown{.0005, .03, .25, .012, .003}, "the shaft waits at the same place one way, while the motor draws what it draws beside it: nothing holds it there, teeth let go; the other way the reading gets over that place, so the track is whole"
	}
	if f.Form == turnsAndGoesOn {
		return shown{.0005, .02, .35, .015, .003}, "the shaft waits at the same place in pass after pass while the motor draws less than beside it: nothing hangs on it there, teeth are missing; a door that binds would load it"
	}
	if f.Form == waitsAlike {
		const lost = "the shaft falls behind at the same place by the same travel in each pass, and nothing of it comes back: "
		switch c, ok := f.Measure(currentBeside); {
		case ok && c < 0.85:
			return shown{.0005, .01, .35, .01, .003}, lost + "the motor draws less than beside it, so it turns there without the shaft: a tooth is missing"
		case ok:
			return shown{.001, .03, .25, .012, .003}, lost + "the motor draws no more than beside it, so nothing holds it there: a tooth is missing; a track that tells nothing of that piece of the way is rarer"
		}
		return shown{.001, .015, .25, .06, .003}, lost + "a tooth is missing; a catch of the door would hold it now longer, now shorter"
	}
	if f.Form == motorTurns {
		return shown{.0005, .06, .35, .01, .003}, "the reading stands while the current says that the motor turns: gears without teeth, or a sensor that lost its drive"
	}
	if f.Seen >= manySlips {
		return shown{.0003, .006, .3, .03, .001}, "the reading climbs and falls back at constant polarity, tooth after tooth: gear teeth let go"
	}
	return shown{.0005, .01, .25, .05, .002}, "the reading climbs and falls back at constant polarity: gear teeth let go"
}

func playLikelihood(f *Finding) (shown, string) {
	return shown{.003, .006, .2, .05, .003}, "the motor turns and the shaft waits, after each reversal and wherever it is: gears, or what sits on the shaft, have play"
}

func unevenWaysLikelihood(f *Finding) (shown, string) {
	volts, or := .25, ", or fewer volts that way"
	if f.has(atSameVolts) {
		volts, or = .005, ""
	}
	switch f.Form {
	case heldOnLess:
		return shown{.002, .001, .3, .002, volts}, "slower one way, and held at the stop it draws far less that way: a door changes nothing of what a held motor draws, its circuit has more resistance in one sense: its brushes" + or
	case noLoadMore:
		return shown{.002, .001, .3, .006, volts}, "slower one way, and no more current for it: a door that drags or weighs is a load, and a load takes current. The motor itself, its brushes, fails that way" + or
	case "uncoupled":
		return shown{.01, .001, .25, .001, volts}, "with nothing on the shaft it runs slower one way: the motor's brushes or gears" + or
	}
	if r, _ := f.Measure(MeasureSlowerThatWay); r >= 1.5*mostUneven {
		return shown{.002, .001, .12, .15, volts}, "several times slower one way all along the travel: no door's weight or spring makes that; a door that drags that way, or a motor whose brushes fail it in one sense" + or
	}
	return shown{.015, .001, .1, .15, volts}, "slower one way all along the travel, by more than a door's weight or spring usually makes: a door that drags that way, or a motor; its current, or the shaft uncoupled, tells which" + or
}

func heavyDragLikelihood(f *Finding) (shown, string) {
	if f.Form == nothingOnShaft {
		return shown{.006, .003, .4, .003, .06}, "with nothing on the shaft it takes more than half of the motor's torque to run: the gears or the motor itself drag"
	}
	p := shown{.01, .003, .25, .25, .045}
	if f.Strength < 0.5 { // nearer to the limit than that, it may be one of the heavier good ones
		return p, "it takes more of the motor's torque to run than most good doors and gears ask for: one of them may drag"
	}
	return p, "it takes far more of the motor's torque to run than a good door and gears ask for: one of them drags"
}

func feedResistsLikelihood(f *Finding) (shown, string) {
	because := "no load changes what a held motor draws, and no instrument that current alone: its circuit has got more resistance, a contact or a wire before it, or its brushes"
	if f.has(driveUnknown) {
		because += "; or it was fed fewer volts, which were not logged"
	}
	return shown{.0008, .001, .15, .001, .35}, because
}
