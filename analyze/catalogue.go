package analyze

// trial is a catalogue entry: each outcome has its likelihood under the
// faults, in the order of Faults.
type trial struct {
	name      string
	minutes   float64
	procedure []string
	cautions  []string
	outcomes  []outcome

	// answered tells that a capture answers it already: one such is enough.
	// pointless tells that a capture gives no reason for it, or no way to make
	// it: only where that holds of every one is it left out.
	answered, pointless func(*Capture) bool

	// cannotShow tells the findings that it tells nothing of: it is left out where
	// nothing else was found. nil for none.
	cannotShow func(*Finding) bool
}

type outcome struct {
	text string
	p    shown
}

const (
	cautionAirbag  = "Airbags may be near: follow the service manual before working in the dashboard (battery off, waiting time)."
	cautionLive    = "A test with the ignition on comes before work in the dashboard, never during it: what must be uncovered for it is uncovered with the battery off; then connect it again and test with hands clear of airbags and their plugs."
	cautionPinch   = "Keep fingers out of doors and linkages while the actuator can be driven."
	cautionGround  = "Both motor leads are switched: never put a scope's ground clip on one. Use two channels and subtract, or a differential probe."
	cautionCoolant = "The heater core and its hoses are hot and under pressure."
	cautionUnplug  = "Unplug before measuring resistance; the controller may be damaged otherwise."
)

// fullSweeps is the name of the test that asks for more of what was logged.
const fullSweeps = "Three full sweeps"

// enoughSweeps is the number of full sweeps, in all captures, after which more of
// the same tell little.
const enoughSweeps = 6

// runItFree is the name of the test that tells the actuator from what hangs on it.
const runItFree = "Run it free"

// logCurrent is the name of the test that tells a blocked shaft from one that turns unseen.
const logCurrent = "Log the motor current too"

// logReference is the name of the test that tells the sensor from its supply, wiggle of
// the one that tells it from its wires.
const (
	logReference = "Log the sensor's reference"
	wiggle       = "Wiggle the connector"
)

// logLeadVolts is the name of the test that tells a motor that is slower one way from
// one that gets fewer volts that way.
const logLeadVolts = "Log the volts of both motor leads"

// logSlowing and letCool are the names of the tests that tell a motor that warms from a
// load that grows.
const (
	logSlowing = "Log the motor current while it slows"
	letCool    = "Let it cool and repeat"
)

// measureLeads is the name of the test that tells whether the drive arrives.
const measureLeads = "Measure the motor leads while it is asked to move"

// measureSensorPins is the name of the test that tells a sensor of which the reading never
// leaves a rail from its wires.
const measureSensorPins = "Unplug it and measure the sensor's pins in the plug"

// logGoodSide is the name of the test that a comparison of sides has answered.
const logGoodSide = "Log the good side"

// catalogue lists the tests. Outcome likelihoods are judgements from the
// physics, to one digit; times are common practice, no source.
func catalogue() []trial {
	clean, same := freeOutcomes()
	return []trial{
		{
			name: runItFree, minutes: 15,
			procedure: []string{
				"Uncouple the actuator from the door, leave it plugged in.",
				"Log drive and feedback over three full sweeps each way.",
				"Check both captures together: coupled, and free with --free.",
			},
			cautions: []string{cautionAirbag, cautionPinch, cautionGround},
			outcomes: []outcome{clean, same},
			answered: func(c *Capture) bool { return c.Free },
			// A track made in steps shows them coupled or not.
			pointless: func(c *Capture) bool { return c.shows(NoDrive) || c.showsForm(GearTurn, madeInSteps) },
			// Without a load a motor draws little, so it hardly warms, and what its
			// winding then gains in resistance hardly slows it.
			cannotShow: ofKinds(Heating),
		},
		{
			name: "Move the door by hand", minutes: 10,
			procedure: []string{
				"With the actuator uncoupled, move the door lever over its whole way by hand.",
				"Feel for a hard spot or an early stop, and whether the air follows.",
			},
			cautions: []string{cautionAirbag, cautionPinch},
			outcomes: []outcome{
				{"it moves freely over the whole way and the air follows", shown{.99, .95, .9, .06, .92}},
				{"it binds, stops early or the air does not follow", shown{.01, .05, .1, .94, .08}},
			},
			pointless: func(c *Capture) bool { return c.shows(NoDrive) },
		},
		{
			name: logCurrent, minutes: 10,
			procedure: []string{"Put a current clamp around one motor lead.", "Repeat the capture with the third channel and give it with --current."},
			cautions:  []string{cautionGround},
			outcomes: []outcome{
				{"there is running current where the reading stands", shown{.01, .7, .2, .02, .25}},
				{"there is stall current where the reading stands", shown{.3, .05, .4, .9, .1}},
				{"there is no current under drive", shown{.01, .01, .2, .01, .45}},
				{"the current is as usual", shown{.68, .24, .2, .07, .2}},
			},
			answered:  func(c *Capture) bool { return c.current && (c.stands() || c.slowerOneWay()) },
			pointless: func(c *Capture) bool { return !c.stands() && !c.slowerOneWay() },
		},
		{
			name: logReference, minutes: 5,
			procedure: []string{"Add a channel on the reference wire at the actuator's connector.", "Repeat the capture and give it with --reference."},
			outcomes: []outcome{
				{"the reference holds still", shown{.98, .97, .97, .98, .5}},
				{"the reference moves with the symptom", shown{.02, .03, .03, .02, .5}},
			},
			answered:  func(c *Capture) bool { return c.reference },
			pointless: func(c *Capture) bool { return c.shows(NotAPot) || c.deadDrive() },
			// The sensor's supply does not set how fast the shaft runs, nor what its motor draws.
			cannotShow: ofKinds(UnevenWays, Heating, FeedResists),
		},
		{
			name: fullSweeps, minutes: 5,
			procedure: []string{"Drive the actuator from stop to stop three times each way (position check, or reverse the leads by hand on the bench with a fused supply).", "Hold each stop for a second; log at 100 rows a second or more."},
			cautions:  []string{cautionPinch},
			outcomes: []outcome{
				{"all sweeps are alike and smooth", shown{.96, .1, .2, .15, .35}},
				{"the same place fails each time", shown{.02, .75, .1, .5, .1}},
				{"it slows, stalls or fails at changing places", shown{.02, .15, .7, .35, .55}},
			},
			answered: func(c *Capture) bool { return len(c.Sweeps) >= enoughSweeps },
			// What one way moves nothing makes no sweeps, and what reads nothing shows none.
			pointless: func(c *Capture) bool {
				return c.shows(NoMotion) || c.pinned() || c.deadDrive() || c.shows(OneWay) || c.shows(HalfDrive) && !c.showsMeasure(HalfDrive, stepByStep)
			},
		},
		{
			name: logGoodSide, minutes: 15,
			procedure: []string{
				"Log the same kind of actuator on the side that works, over three full sweeps each way.",
				"Check this capture with --good-side and that file; or make a profile of it (with the command threewire profile) and check with --profile.",
			},
			cautions: []string{cautionAirbag, cautionPinch, cautionGround},
			outcomes: []outcome{
				{"span and speed are alike", shown{.9, .78, .25, .55, .84}},
				{"this side is slower", shown{.05, .04, .6, .2, .09}},
				{"this side's travel is shorter or longer", shown{.05, .18, .15, .25, .07}},
			},
			// The same question, answered by a profile or by the other side.
			answered: func(c *Capture) bool { return c.Against != nil && c.Against.Used },
			// What never moved has neither span nor speed.
			pointless: func(c *Capture) bool { return c.shows(NoMotion) || c.deadDrive() },
		},
		{
			name: wiggle, minutes: 3,
			procedure: []string{"Record while the motor is not driven; where the supply gives way or the drive breaks off, also while it is held at a stop.", "Bend the cable and press the connector of the actuator, then of the control unit."},
			cautions:  []string{cautionAirbag},
			outcomes: []outcome{
				{"the reading jumps with the cable", shown{.01, .03, .02, .01, .6}},
				{"the reading stays", shown{.99, .97, .98, .99, .4}},
			},
			// Nothing is driven meanwhile, and the reading knows nothing of the motor's wires:
			// at a stop it stands, however few volts the motor gets.
			cannotShow: func(f *Finding) bool { return f.losesInFeed() || ofKinds(UnevenWays, Heating, FeedResists)(f) },
		},
		{
			name: measureSensorPins, minutes: 5,
			procedure: []string{
				"Unplug the actuator and switch the ignition on. Measure in the harness's plug, against the body: the reference pin (about 5 V), the sensor's ground pin (nothing), the wiper's pin.",
				"Join the wiper's pin through 10 kilohms to the reference pin, then to the ground pin: its volts should go with it, and so should what the control unit shows.",
				"Reference or ground missing, or a wiper's pin that stays at a rail: the cable or the control unit. All in order: the actuator.",
			},
			cautions: []string{cautionAirbag, cautionLive},
			outcomes: []outcome{
				{"all three are in order", shown{.97, .95, .97, .97, .1}},
				{"one is missing, or the wiper's pin stays at a rail", shown{.03, .05, .03, .03, .9}},
			},
			pointless: func(c *Capture) bool { return !c.pinned() },
		},
		{
			name: measureLeads, minutes: 10,
			procedure: []string{
				"Ask at the control panel for the whole way, first one way and then the other.",
				"Measure the volts from one motor lead to the other while it is asked for: at the actuator's connector, plugged in, then at the control unit.",
				"Volts at the unit and none at the actuator: the cable or a connector between them. None at either: the unit, its fuse or its supply. Volts that the capture did not show: the instrument's clip was off.",
			},
			cautions: []string{cautionAirbag, cautionLive, cautionPinch, cautionGround},
			outcomes: []outcome{
				{"full volts reach the actuator both ways", shown{.97, .97, .97, .97, .1}},
				{"they are missing, both ways or one way", shown{.03, .03, .03, .03, .9}},
			},
			pointless: func(c *Capture) bool { return !c.doubtsDrive() },
		},
		{
			name: "Measure the motor at its pins", minutes: 10,
			procedure: []string{"Unplug the actuator.", "Measure the resistance between its two motor pins, five times, and turn the shaft or nudge the motor a little between the readings."},
			cautions:  []string{cautionAirbag, cautionUnplug},
			outcomes: []outcome{
				// A winding of such a motor has 10 to 100 ohms (common practice, no source).
				{"it is 5 to 200 ohms each time", shown{.97, .97, .2, .95, .97}},
				{"it is open or next to nothing, once or always", shown{.03, .03, .8, .05, .03}},
			},
			pointless: func(c *Capture) bool { return !c.doubtsMotor() && !c.shows(FeedResists) },
		},
		{
			name: "Measure the track end to end", minutes: 10,
			procedure: []string{"Unplug the actuator.", "Measure resistance from reference to ground pin: it should be steady.", "Measure from wiper to each while turning the shaft slowly: it should change without steps."},
			cautions:  []string{cautionUnplug},
			outcomes: []outcome{
				{"all is steady and without steps", shown{.98, .15, .95, .97, .95}},
				{"there are steps, gaps or a changing total", shown{.02, .85, .05, .03, .05}},
			},
			pointless:  func(c *Capture) bool { return c.showsForm(GearTurn, madeInSteps) },
			cannotShow: ofKinds(FeedResists),
		},
		{
			name: "Move the instrument's ground", minutes: 5,
			procedure: []string{
				"Put the instrument's ground on the sensor's ground pin at the actuator and nowhere else, and log again.",
				"If the reading still steps, log the reference against that pin too, and measure from that pin to the battery's negative post while the motor is driven into a stop: a tenth of a volt is much.",
			},
			cautions: []string{cautionGround, cautionPinch},
			outcomes: []outcome{
				{"the steps are gone", shown{.9, .1, .1, .1, .3}},
				{"the steps stay", shown{.1, .9, .9, .9, .7}},
			},
			pointless: func(c *Capture) bool { return !c.shows(DriveShift) },
		},
		{
			name: "Measure the wiper's wire against the motor leads", minutes: 5,
			procedure: []string{"Unplug the actuator and the control unit.", "Measure the resistance from the wiper's wire to each motor lead, to the battery's positive and to ground, in the harness and at the actuator's pins."},
			cautions:  []string{cautionUnplug},
			outcomes: []outcome{
				{"none is below 100 kilohms", shown{.99, .97, .98, .98, .25}},
				{"one of them conducts", shown{.01, .03, .02, .02, .75}},
			},
			pointless: func(c *Capture) bool { return !c.showsForm(DriveShift, underOneDrive) },
		},
		{
			name: logLeadVolts, minutes: 10,
			procedure: []string{
				"Log each motor lead in volts against ground, with the feedback, over two full sweeps each way; with a current clamp the motor current too.",
				"Check it, and compare the volts from lead to lead of the two ways.",
				"Where they are alike, drive it on the bench from a fused supply, both ways by swapping the two leads at the supply: what is slower the same way there lies in the actuator.",
			},
			cautions: []string{cautionAirbag, cautionPinch, cautionGround},
			outcomes: []outcome{
				{"both ways get the same volts", shown{.95, .97, .97, .97, .05}},
				{"the slower way gets fewer volts", shown{.05, .03, .03, .03, .95}},
			},
			answered:  func(c *Capture) bool { return c.showsMeasure(UnevenWays, atSameVolts) },
			pointless: func(c *Capture) bool { return !c.shows(UnevenWays) },
		},
		feedLosses(),
		sensorFeed(),
		{
			name: logSlowing, minutes: 10,
			procedure: []string{
				"Put a current clamp around one motor lead.",
				"Drive as many passes as before, one after the other, log the clamp on a third channel and give it with --current.",
				"Compare the current under way, away from the starts and the stops, of the first pass with that of the last.",
			},
			cautions: []string{cautionPinch, cautionGround},
			outcomes: []outcome{
				// At the same load a motor draws the same current, however warm it is; a
				// warm one whose bearings bind is the exception.
				{"it stays as it was or falls while the passes get slower", shown{.5, .5, .9, .1, .7}},
				{"it rises as the passes get slower", shown{.5, .5, .1, .9, .3}},
			},
			answered:  func(c *Capture) bool { return c.current && c.shows(Heating) },
			pointless: func(c *Capture) bool { return !c.shows(Heating) },
		},
		{
			name: letCool, minutes: 35,
			procedure: []string{
				"Leave it undriven for half an hour.",
				"Drive and log the same passes again, at the same setting and with the same pauses.",
				"Compare the time of the first pass after the rest with those of the first and the last pass before it.",
			},
			cautions: []string{cautionPinch, cautionGround},
			outcomes: []outcome{
				{"it begins as fast as it did at first, and slows again", shown{.5, .5, .95, .3, .6}},
				{"it begins as slow as it ended", shown{.5, .5, .05, .7, .4}},
			},
			pointless: func(c *Capture) bool { return !c.shows(Heating) },
		},
		{
			name: "Look inside with an inspection camera", minutes: 30,
			procedure: []string{"Through the outlet or the filter opening, look at the door while it is driven."},
			cautions:  []string{cautionPinch, cautionCoolant},
			outcomes: []outcome{
				{"an object, a broken door or a door that binds is seen", shown{.02, .02, .03, .75, .02}},
				{"the door moves freely", shown{.98, .98, .97, .25, .98}},
			},
			// No door makes the reading step or leap.
			pointless: func(c *Capture) bool { return c.shows(NoDrive) },
			answered:  func(c *Capture) bool { return c.shows(DriveShift) || c.shows(LastingLeap) },
			// A drag that grows from pass to pass is not to be seen.
			cannotShow: ofKinds(Heating),
		},
	}
}

// freeOutcomes are what a run off the door can show of what was found on it.
func freeOutcomes() (clean, same outcome) {
	return outcome{"the free run is clean", shown{.97, .06, .35, .96, .4}},
		outcome{"the free run shows the same", shown{.03, .94, .65, .04, .6}}
}
