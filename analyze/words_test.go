package analyze

import (
	"strings"
	"testing"
)

func TestCounted(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n    int
		noun string
		want string
	}{{0, "move", "0 moves"}, {1, "move", "1 move"}, {2, "full sweep", "2 full sweeps"}, {1, "stretch", "1 stretch"}, {3, "stretch", "3 stretches"}, {0, "pass", "0 passes"}} {
		if got := counted(c.n, c.noun); got != c.want {
			t.Errorf("counted(%d, %q) = %q, expected %q", c.n, c.noun, got, c.want)
		}
	}
}

// Titles say one as one, none as none, and a loss of speed without a minus.
func TestTitlesInPlainWords(t *testing.T) {
	t.Parallel()
	w := &work{ref: 5, span: Interval{0.5, 4.5}}
	w.tr = newDraft(1).run(0, 1).trace()
	for _, c := range []struct {
		f    Finding
		want string
	}{
		{Finding{Kind: Dropouts, Measures: []Measure{{"while moving", 3, ""}, {"at rest", 0, ""}}}, "Signal drop-outs, 3: 3 while the shaft moves, none while it stands."},
		{Finding{Kind: Dropouts, Measures: []Measure{{"while moving", 1, ""}, {"at rest", 8, ""}, {lossesInAll, 15, ""}}}, "Signal drop-outs: 15 in all. Of the 9 that can be told apart, 1 while the shaft moves, 8 while it stands."},
		{Finding{Kind: Heating, Seen: 11, Measures: []Measure{{"change of speed, first to last sweep", -20, "%"}}}, "Slower from pass to pass at the same drive: after 11 passes it runs at 80 % of the speed it began with."},
		{Finding{Kind: AtRail, Form: "high" + allTheTime, Volts: Interval{4.9, 5}, Measures: []Measure{{"level", 4.98, "V"}, {assumedSupply, 5, "V"}}}, "Feedback at the high rail (4.98 V, next to the assumed 5 V) all the time."},
		{Finding{Kind: Heating, Seen: 8, Measures: []Measure{{changeOfSpeed, -39, "%"}, {firstPassTook, 5.71, "s"}, {lastPassTook, 9.04, "s"}, {timedFrom, 1, "V"}, {timedTo, 4.08, "V"}}}, "Slower from pass to pass at the same drive: from 1.00 V up to 4.08 V the last pass takes 9.0 s where the first took 5.7 s (8 passes compared, whole or in part)."},
		{Finding{Kind: GearSlip, Form: "in mid travel", Seen: 4, Places: []Occurrence{{Volts: Interval{0.5, 0.6}}, {Volts: Interval{4.3, 4.4}}}, Measures: []Measure{{"size", 0.07, "V"}}}, "Gear slip: the reading falls back 4 times by about 0.070 V under constant drive, at both ends of the travel, where the stops load the gears most."},
		{Finding{Kind: GearSlip, Form: "in mid travel", Seen: 4, Places: []Occurrence{{Volts: Interval{2.5, 2.6}}, {Volts: Interval{4.3, 4.4}}}, Measures: []Measure{{"size", 0.07, "V"}}}, "Gear slip: the reading falls back 4 times by about 0.070 V under constant drive, in mid travel."},
		{Finding{Kind: Pauses, Form: "does not start", Seen: 1, Measures: []Measure{{"longest stand", 0.5, "s"}}}, "Does not start: 1 drive moved nothing, for up to 0.50 s, at places from which other drives moved on."},
		{Finding{Kind: StickSlip, Seen: 5, Passes: 16, Measures: []Measure{{MeasureScatterOfSteps, 1.3, "times"}, {MeasureNoiseChance, 1e-4, ""}}}, "Stick-slip: it moves in little jumps all along the way, in 5 of 16 stretches: its steps from row to row scatter 1.3 times as widely as noise alone does, and lean forward (pure chance looks like this 1 time in 10,000)."},
		{Finding{Kind: Pauses, Form: doesNotStart, Seen: 12, Measures: []Measure{{drawsNothing, 1, ""}, {idleAtStop, 7, ""}, {MeasureLongestStand, 0.91, "s"}}}, "Does not start: 12 drives moved nothing and drew no current, for up to 0.91 s, at places from which other drives moved on; 7 more drives drew none either (there a stop may have held the shaft)."},
		{Finding{Kind: Heating, Seen: 7, Measures: []Measure{{firstPassTook, 9.7, "s"}, {lastPassTook, 10.5, "s"}, {firstPassBack, 10.4, "s"}, {lastPassBack, 11.7, "s"}, {timedFrom, 0.85, "V"}, {timedTo, 4.2, "V"}}}, "Slower from pass to pass at the same drive: from 0.85 V up to 4.20 V the last pass takes 10.5 s where the first took 9.7 s, down again 11.7 s where it took 10.4 s (7 passes compared, whole or in part)."},
		{Finding{Kind: StickSlip, Seen: 5, Passes: 1, Measures: []Measure{{"longest stand", 0.5, "s"}}}, "Stick-slip: 5 stands in 1 move, up to 0.50 s."},
		{Finding{Kind: RefLoss, Seen: 1, Measures: []Measure{{"largest deviation", 13, "%"}}}, "Reference disturbed once, at worst 13 % off its usual level."},
		{Finding{Kind: RefLoss, Seen: 25, Measures: []Measure{{"largest deviation", 105, "%"}, {"usual level", 5.03, "V"}, {furthestLevel, -0.26, "V"}}}, "Reference disturbed 25 times: it leaves its usual 5.03 V, at worst for -0.26 V (105 % off)."},
		{Finding{Kind: Pauses, Seen: 1, Measures: []Measure{{"longest stand", 0.44, "s"}}}, "Stands under drive once, for 0.44 s."},
		{Finding{Kind: EndLoss, Form: "at the high end", Seen: 1, Passes: 1, Volts: Interval{4, 4}, Measures: []Measure{{"hidden travel", 0.2, "V"}}}, "Track lost at the high end near 4.00 V: the reading stops 0.20 V before the shaft does, in the only arrival."},
		{Finding{Kind: SpanDrift, Measures: []Measure{{"low end drift", 0, "V"}, {"high end drift", -0.34, "V"}}}, "Feedback span drifts: low end unmoved, high end down by 0.34 V over the capture."},
		{Finding{Kind: Jam, Form: "driven into again and again, far inside the supply", Seen: 2, Direction: Down, Volts: Interval{1.5, 1.5}}, "Stall at 1.50 V going down, twice: driven into again and again, far inside the sensor's range."},
		{Finding{Kind: DeadSpot, Form: "open beyond", Direction: Down, Measures: []Measure{{"edge", 0.85, "V"}, {"leaps", 8, ""}, {"leaps at rest", 0, ""}}}, "Track open beyond 0.85 V: driven down past it the reading leaps away, driven back it returns, 8 leaps, none at rest."},
		{Finding{Kind: LoadLost, Time: Interval{60, 60}, Measures: []Measure{{"gain of speed", 20, "%"}}}, "Load lost near 60 s: from then on it runs 20 % faster both ways."},
		{Finding{Kind: LoadLost, Form: "and runs further", Time: Interval{60, 60}, Measures: []Measure{{"gain of speed", 12, "%"}, {MeasureGainUp, 8, "%"}, {MeasureGainDown, 16, "%"}}}, "Load lost near 60 s: from then on it runs faster, by 8 % going up and by 16 % going down, and runs further than before."},
		{Finding{Kind: LoadLost, Time: Interval{60, 60}, Measures: []Measure{{"gain of speed", 20, "%"}, {currentAsBefore, 1, ""}}}, "Faster from about 60 s on: by 20 % both ways, at the same current."},
		{Finding{Kind: SupplySag, Form: "supply", Measures: []Measure{{"level under load", 9.8, "V"}, {"drop under load", 21, "%"}}}, "Supply gives way under load: the supply falls to 9.8 V, by 21 %."},
		{Finding{Kind: SupplySag, Form: "drive", Measures: []Measure{{"level under load", 5, "V"}, {"drop under load", -0.3, "%"}}}, "Supply low: the drive is only 5.0 V under load."},
		{Finding{Kind: SupplySag, Form: sagAsLimit, Measures: []Measure{{"level under load", 7.2, "V"}, {"drop under load", 40, "%"}, {holdsUnderWay, 1, ""}}}, "Supply falls at the stops only: the drive is 7.2 V there, 40 % less than under way, where it holds however loaded."},
		{Finding{Kind: HalfDrive, Form: "negative only", Seen: 4}, "Driven one way only: all 4 moves with negative drive; the other polarity never comes."},
		{Finding{Kind: Hunting, Form: "at the high end", Seen: 1, Time: Interval{1, 2}, Measures: []Measure{{"frequency", 0.5, "Hz"}, {"amplitude", 0.5, "V"}}}, "Hunting at the high end: 1 reversal from 1.0 to 2.0 s, 0.5 Hz, 0.50 V peak to peak."},
		{Finding{Kind: Hunting, Form: "at the high end", Seen: 5, Time: Interval{1, 2}, Measures: []Measure{{"frequency", 0.5, "Hz"}, {"amplitude", 0.01, "V"}, {doesNotAnswer, 1, ""}}}, "Driven to and fro, 5 reversals from 1.0 to 2.0 s, 0.5 Hz, and the reading does not answer."},
	} {
		if got := w.title(&c.f); got != c.want {
			t.Errorf("%s: %q, expected %q", c.f.Kind, got, c.want)
		}
	}
}

// A test turns the verdict exactly when an outcome names another fault or
// leaves none stated.
func TestNextTestsTurn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		p    []float64
		turn bool // whether some test can turn it
	}{
		{"all but certain", []float64{.001, .996, .001, .001, .001}, false},
		{"even", []float64{.2, .2, .2, .2, .2}, true},
		{"leaning", []float64{.1, .1, .6, .1, .1}, true},
	} {
		some := false
		for _, n := range NextTests(c.p, nil) {
			some = some || n.Turns
		}
		if some != c.turn {
			t.Errorf("%s: some test turns the verdict: %t", c.name, some)
		}
	}
	if n := NextTests([]float64{.2, .2, .2, .2, .2}, nil); len(n) != 3 {
		t.Errorf("%d tests for an even start", len(n))
	}
}

// With the whole travel seen, "not enough of the travel" is no reason for an
// open verdict.
func TestOpenVerdictSaysWhy(t *testing.T) {
	t.Parallel()
	c, err := Examine(newDraft(1).sweeps(3).trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	p := []float64{.54, .01, .44, .005, .005}
	if v := conclude(p, []*Capture{c}, false, 1); v.Summary != "The capture does not decide between no fault (54 %) and motor (44 %)." {
		t.Errorf("whole travel: %q", v.Summary)
	}
	if v := conclude(p, []*Capture{c}, false, 0.3); v.Summary != "The capture shows no fault, but not enough of the travel to clear the actuator." {
		t.Errorf("little travel: %q", v.Summary)
	}
}

// How far a reading left the track is said in its unit.
func TestSmallDepartureIsToldInItsUnit(t *testing.T) {
	t.Parallel()
	f := Finding{Kind: DeadSpot, Form: "open", Seen: 2, Strength: 1, ref: 5, Measures: []Measure{{"departure", 0.06, "V"}}}
	if _, because := weights(&f); !strings.Contains(because, "by only 0.060 V, twice at one place") {
		t.Error(because)
	}
}

func TestMoreOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n          float64
		unit, want string
	}{{1, "seconds of recording", "one more second of recording"}, {40, "seconds of recording", "40 more seconds of recording"}, {1680, "seconds of recording", "28 more minutes of recording"}, {1, "full sweeps", "one more full sweep"}, {3, "passes", "3 more passes"}} {
		if got := moreOf(c.n, c.unit); got != c.want {
			t.Errorf("moreOf(%g, %q) = %q, expected %q", c.n, c.unit, got, c.want)
		}
	}
}
