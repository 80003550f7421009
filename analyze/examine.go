package analyze

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"

	"threewire/signal"
)

// ErrTooShort is returned for a trace with too few readings to analyse.
var ErrTooShort = errors.New("too few readings: at least 8 rows with time, drive and feedback are needed")

// Examine measures one capture. It returns ErrTooShort for fewer than eight
// bins; every other doubt about the data is part of the result.
func Examine(t *signal.Trace, opt Options) (*Capture, error) {
	if t.Len() < 8 || len(t.Feedback.Mean) != t.Len() || len(t.Drive.Mean) != t.Len() {
		return nil, ErrTooShort
	}
	if t = t.Told(); t.Len() < 8 {
		return nil, ErrTooShort
	}
	whole := t
	w := &work{opt: opt, lim: opt.Limits}
	t = w.atOnePace(w.inKnownUnits(t))
	if slow := t.Renewed(); slow != t && slow.Len() >= 8 {
		w.notes = append(w.notes, fmt.Sprintf("the reading is renewed only every %.0f ms, though a row comes every %.0f ms: it was judged at that pace", 1000*slow.Step, 1000*t.RowStep))
		t = slow
	}
	if live, held := t.Unheld(); len(held) > 0 && live.Len() >= 8 {
		longest := 0.0
		for _, h := range held {
			longest = math.Max(longest, h.To-h.From)
		}
		w.notes = append(w.notes, fmt.Sprintf("the logger wrote the same row over and over %s, %.2f s at the longest, all channels alike to the last digit: it read nothing new meanwhile, and these rows were taken as missing", timesText(len(held)), longest))
		t = live
	}
	t = w.withoutFailedRows(w.withoutCommonJumps(w.withoutSurges(t)))
	w.keep(t)
	w.woke = powerOn(t)
	if off := w.switchedOff(); len(off) > 0 {
		t = w.tr
		w.notes = append(w.notes, fmt.Sprintf("the supply was switched off %s, %.1f s in all, and the reading went with it, as when the ignition is off or the engine is started: these rows were left out", timesText(len(off)), secondsOf(off)))
	}
	t = w.withoutFeedCuts(t)
	from, to := w.unfed(), w.clipOff()
	if to < t.Len() {
		w.notes = append(w.notes, fmt.Sprintf("the reading falls to nothing at %.1f s, after the last drive, and stays there to the end: its clip was taken off, or the sensor's supply switched off; what follows was left out", w.t[to]))
	}
	if from > 0 {
		w.woke.at = math.Min(w.woke.at, w.t[from])
		w.notes = append(w.notes, fmt.Sprintf("up to %.1f s, before the first drive, the reading lies at a rail and then goes to its place at once: the sensor was not plugged in or had no supply yet, or its clip was not on; what precedes was left out. If all of them were in place, look for a loose contact", w.t[from]))
	}
	if from > 0 || to < t.Len() {
		w.keep(t.Part(from, to))
	}
	w.dropProbes()
	w.tr = w.withoutReferenceTalk(w.withoutCrossTalk(w.tr))
	w.refLevel, w.refLost = memo[float64]{}, memo[bool]{} // of a channel with other readings
	w.condition()
	w.run()
	w.finish()
	why := w.recordedApart(whole)
	c := w.result()
	if why != "" {
		c.takeApart(why)
	}
	return c, nil
}

// secondsOf is how long some stretches last together, in s.
func secondsOf(spans []signal.Span) (seconds float64) {
	for _, o := range spans {
		seconds += o.To - o.From
	}
	return seconds
}

// run does the measuring, stage by stage: each stage takes what the ones before it left
// in w, and none looks ahead. Within a stage the order matters where a comment says so.
func (w *work) run() {
	if !w.readMoves() {
		return
	}
	stalls := w.readTravel()
	w.findPositionChecks()
	w.findDriveFaults()
	if w.refGone() {
		return // a sensor without supply tells nothing else
	}
	w.findShift()
	w.findEdges()
	w.dropShiftBeyondEdge()
	if w.findNoMotion() {
		w.findRails()
		w.findSupplyStill()
		w.joinOpenEnd()
		return
	}
	w.findAlongTravel(stalls)
	w.findAcrossMoves()
	w.findAcrossWires()
	w.joinSameEvent()
	w.findFromJoined()
	w.findWhatIsLeft()
}

// readMoves finds the reference, the drive's moves and the sense of the reading, and
// cuts each move into what the shaft did. It tells whether there is anything to judge
// beyond: what it says about a capture without a polarity, or without a potentiometer,
// is said already.
func (w *work) readMoves() bool {
	w.findReference()
	w.findBatteryFed()
	w.findClipped()
	if w.findNotAPot() {
		return false
	}
	w.currentDrives()
	if !w.d.none {
		w.moves = w.dropGenerated(w.d.moves(w.t, w.tr.Step, w.lim))
	}
	switch why := w.polarityMissing(); {
	case why == loneLead && w.driveBack():
		w.oneLead = true
		w.moves = w.dropGenerated(w.d.moves(w.t, w.tr.Step, w.lim))
	case why != "":
		w.withoutPolarity(why)
		return false
	}
	if w.coupledAC() {
		w.tellCoupledAC()
		return false
	}
	w.dropSwitchedSupply()
	w.zeroCurrent()
	var agree float64
	w.sense, agree = w.senseOf()
	w.dropDeadSupply()
	if w.sense != 0 && agree < 0.75 {
		w.contrary = fmt.Sprintf("only %.0f %% of the travel follows one sense of the drive", 100*agree)
		w.turnsOver = w.senseTurnsOver()
		w.doubt(ContraryTravel, w.contrary+": check that drive and feedback belong together")
	}
	for k := range w.moves {
		w.moves[k].Direction = Direction(int(w.moves[k].Polarity) * w.sense)
	}
	w.nominalRates()
	w.levelAliased()
	for k := range w.moves {
		w.segmentMove(&w.moves[k])
		w.measure(&w.moves[k])
	}
	return true
}

// readTravel finds the span, its stops, the full sweeps and their profiles of speed,
// which all findings are measured against, and gives the places where a driven shaft
// stood, V.
func (w *work) readTravel() (stalls []stall) {
	w.findSpan()
	w.findStairway()
	w.findRockings()
	for k := range w.moves {
		w.collect(k)
	}
	w.tellConverter()
	stalls = w.stallsOf()
	w.findStops(stalls)
	w.findSweeps()
	w.findProfiles()
	return stalls
}

// findAlongTravel finds what belongs to a place of the travel: the track first, for a
// place where the wiper has no contact is none where the shaft stood; stands before
// slow zones, for a zone is what is slow where nothing stands; ends last.
func (w *work) findAlongTravel(stalls []stall) {
	w.findDeadSpots()
	w.findNoisyTrack()
	w.findSlip()
	w.findStands()
	w.findRatchet()
	w.findTreads()
	w.findSlowZones()
	w.joinRipple()
	w.findGearTurn()
	w.findLoadSaw()
	w.findSurge()
	w.findEnds(stalls)
	w.findLostAtStops()
	w.findThrownAtEnd()
	w.findClings()
	w.joinFriction()
}

// findAcrossMoves finds what shows from one move to the next: drift, hunting, play,
// heat, a load or a stop that is gone, ways that differ, a weak drive.
func (w *work) findAcrossMoves() {
	w.findDrift()
	w.findCreepAtStands()
	w.findHunting()
	w.findPlay()
	w.findHeating()
	w.dropSpent()
	w.findLoadLost()
	w.findPassedStops()
	w.findUnevenWays()
	w.findAgainstProfile()
	w.findWeakDrive()
}

// findAcrossWires finds what no place and no move explains: readings at a rail, a
// reading that moves by itself, the supply, wires that touch.
func (w *work) findAcrossWires() {
	w.findRails()
	w.findSelfMotion()
	if !w.findSupplyFallen() {
		w.findSupply()
	}
	w.findFeedGives()
	w.findSagsWhileDriven()
	w.findComesAndGoes()
	w.findSupplySpells()
	w.findLowerFromThenOn()
	w.findOnePolaritySince()
	w.findRunsDown()
	w.findNeverFull()
	w.findShorted()
}

// joinSameEvent takes findings that are one event for one: each join keeps the finding
// that explains the others and ties them to it, so that no event counts twice. The
// order is from the surest cause to the weakest: a supply that is gone explains a loss
// before an end of the track that is open, that before hunting, hunting before a slip.
func (w *work) joinSameEvent() {
	w.joinReference()
	w.joinOpenEnd()
	w.joinSlack()
	w.joinPlay()
	w.joinLoaded()
	w.joinHunts()
	w.joinLimitCycles()
	w.joinSettled()
	w.joinTries()
	w.joinSlip()
	w.joinLost()
	w.joinDrift()
	w.joinLoose()
	w.joinOneSided()
	w.joinStopped()
	w.joinTired()
	w.joinPassed()
	w.joinScattered()
	w.joinTurn()
}

// findFromJoined finds what only shows once it is known which findings are one event:
// a scale or a track that is bent (not where a slip explains it), a shaft that runs
// back, currents that fit no other cause, and what breaks.
func (w *work) findFromJoined() {
	w.findScale()
	w.findBentTrack()
	w.findSteepTrack()
	w.findRunsBack()
	w.joinTurnsFree()
	w.joinPlaceLaw()
	w.findTightStop()
	w.joinNoStart()
	w.findNoMotionSince()
	w.joinIgnored()
	w.findOpenCircuit()
	w.findUnloaded()
	w.joinPlaces()
	w.findBreaks()
	w.findFeedResists()
	w.findHeavyDrag()
	w.findStaysOn()
	w.joinBroken()
}

// findWhatIsLeft finds the weak signs that only count where nothing above explains
// them, and joins what they explain.
func (w *work) findWhatIsLeft() {
	if !w.findSlippedWiper() && !w.findSlippedStands() {
		w.findLastingLeap()
		w.findLoneStep()
	}
	w.findSpells()
	w.findRoughContact()
	w.findRoughOneWay()
	w.findNoisyBeyond()
	w.findBadStretch()
	w.findFloatsBeyond()
	w.findWaits()
	w.joinSteps()
	w.joinStairway()
	w.joinUnpowered()
	w.joinShift()
	w.findGivesBack()
	w.findUnexplained() // last of all
}

// finish gives every finding its place on the span, its weights and its
// words, and orders them by weight of evidence.
func (w *work) finish() {
	w.countLosses()
	w.dropUnmeasured()
	for i := range w.found {
		f := &w.found[i]
		if s := w.span.Width(); s > 0 {
			pc := func(v float64) float64 {
				return math.Max(-20, math.Min(120, 100*(v-w.span.From)/s))
			}
			f.Percent = Interval{pc(f.Volts.From), pc(f.Volts.To)}
		}
		f.Strength = math.Max(0, math.Min(1, f.Strength))
		for _, x := range []*float64{&f.Time.From, &f.Time.To, &f.Volts.From, &f.Volts.To} {
			if math.IsInf(*x, 0) || math.IsNaN(*x) {
				*x = 0
			}
		}
		// A limit that the data do not bound is left out.
		f.Measures = slices.DeleteFunc(f.Measures, func(m Measure) bool {
			return math.IsNaN(m.Value) || math.IsInf(m.Value, 0)
		})
		f.span, f.ref = w.span.Width(), w.ref
		if f.Kind == GearSlip && w.atBothEnds(f) {
			f.Measures = append(f.Measures, Measure{onlyAtEnds, 1, ""})
		}
		f.Title = w.title(f)
		f.Weights, f.Because = weights(f)
		if w.opt.Free {
			// Off its door an actuator cannot show the door's fault.
			f.Weights[DoorMechanism] = math.Min(f.Weights[DoorMechanism], f.Weights[NoFault])
		}
	}
	sort.SliceStable(w.found, func(i, j int) bool { return w.found[i].force() > w.found[j].force() })
	w.coverage()
	w.driftLimits()
	w.tieFindings()
	for i := range w.found {
		w.found[i].bothWaysSeen()
	}
	w.findSampling()
}

// dropUnmeasured leaves out what no number says how surely it was seen: its weight would
// make every chance of the verdict no number either. None is known to come about.
func (w *work) dropUnmeasured() {
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
		if math.IsNaN(f.Strength) {
			w.notes = append(w.notes, fmt.Sprintf("a sign of %q could not be measured and was left out", f.Kind))
		}
		return math.IsNaN(f.Strength)
	})
}

// Explained tells whether finding i follows from another one of the same event: it is
// listed after that and worth next to nothing by itself, or it is overruled and points
// at another component.
func (c *Capture) Explained(i int) bool {
	f := &c.Findings[i]
	if f.Strength < 0.1 && f.Event != "" && slices.ContainsFunc(c.Findings[:i], func(o Finding) bool { return o.Event == f.Event }) {
		return true
	}
	return c.overruled(f) && slices.ContainsFunc(c.Findings, func(o Finding) bool {
		return o.Event == f.Event && o.Strength > 0.5 && o.lead() != f.lead()
	})
}

// force is how far a finding speaks against "no fault".
func (f *Finding) force() float64 { return forceOf(f.Weights) }

// forceOf is how far log likelihoods, in the order of Faults, speak against "no fault".
func forceOf(w []float64) float64 {
	best := math.Inf(-1)
	for _, x := range w[1:] {
		best = math.Max(best, x)
	}
	return best - w[0]
}

// Counts tells whether a finding speaks against "no fault" by three to two or more: less
// is no evidence. One that was never weighed counts.
func (f *Finding) Counts() bool { return len(f.Weights) == 0 || f.force() > math.Log(1.5) }

// list makes an empty list of a nil one.
func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

func (w *work) result() *Capture {
	c := &Capture{
		Doubts: w.doubts,
		Source: w.tr.Source, Free: w.opt.Free, Duration: w.tr.Duration(), Rows: w.tr.Rows, Step: w.tr.Step,
		Noise: w.noise, Quantum: w.quantum, Reference: w.ref, Span: w.span, Levels: w.d.levels,
		Pulsed: w.d.pulsed, RatesAtFullDrive: w.byDrive, Sense: w.sense, Unit: w.unit(),
		Moves: w.moves, Stops: w.stops, Sweeps: w.sweeps, Findings: w.found,
		Absent: w.absent, Blind: w.blind, Notes: w.notes, seen: w.seenShare(), sees: w.seesShare(), current: w.tr.Current != nil, reference: w.tr.Reference != nil, contrary: w.contrary, shareKnown: w.shareKnown(), supplyLogged: w.tr.Supply != nil, refLogged: w.refMeasured(), travel: w.travel, runAmps: w.runningCurrent(), heldAmps: w.blockedCurrent(nil), idleAmps: w.idleCurrent(), ripple: w.ripples(), paths: w.paths(), finest: w.dwellFinest(), Drivable: !w.tr.DriveIsPolarity,
		Start: w.tr.Start, Against: w.against, Checks: list(w.checks), Clipped: w.clipped, Sampling: list(w.sampling),
	}
	// JSON lists are empty, never null.
	c.Moves, c.Stops, c.Sweeps, c.Profiles, c.Findings = list(c.Moves), list(c.Stops), list(c.Sweeps), list(c.Profiles), list(c.Findings)
	c.Absent, c.Blind = list(c.Absent), list(c.Blind)
	for _, m := range w.moves {
		c.Driven += m.Duration()
	}
	c.leastHold = shortestHold(w.tol, w.ref, w.window, math.Max(w.rate[0], w.rate[1])*w.tr.Step)
	for _, p := range w.prof {
		if p != nil {
			c.Profiles = append(c.Profiles, *p)
		}
	}
	c.Remarks = remarksOf(w.tr)
	for _, n := range w.tr.Notes {
		c.Notes = append(c.Notes, n.Text)
		if n.Turns && !(n.Code == signal.ClockRestarted && w.oneRecording) {
			c.Doubts = append(c.Doubts, DataDoubt{n.Code, n.Text})
		}
	}
	return c
}
