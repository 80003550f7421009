package analyze

import (
	"fmt"
	"math"
	"strings"
)

// title says a finding in one plain sentence, with places and numbers.
func (w *work) title(f *Finding) string {
	u := w.unit()
	band := func() string {
		if f.Volts.Width() < 0.005*w.ref {
			return "at " + amount(f.Volts.Mid(), u)
		}
		return fmt.Sprintf("from %s to %s", strings.TrimSuffix(amount(f.Volts.From, u), " "+u), amount(f.Volts.To, u))
	}
	percent := ""
	if w.span.Width() > 0 {
		percent = fmt.Sprintf(" (%s to %s %% of the span)", wholeText(f.Percent.From), wholeText(f.Percent.To))
		if f.Percent.Width() < 1 {
			percent = fmt.Sprintf(" (%s %% of the span)", wholeText(f.Percent.Mid()))
		}
	}
	passes := ""
	if f.Passes > 0 {
		passes = fmt.Sprintf(", in %d of %d passes", f.Seen, f.Passes)
		if f.Passes == 1 {
			passes = ", in the only pass"
		}
	}
	way := ""
	switch f.Direction {
	case Up:
		way = ", going up only"
	case Down:
		way = ", going down only"
	}
	m := func(name string) float64 { v, _ := f.Measure(name); return v }
	switch f.Kind {
	case DeadSpot:
		if f.Form == railToRail {
			return fmt.Sprintf("Track broken: driven past one place the reading goes from rail to rail, %s, and back when driven back.", timesText(int(m("leaps"))))
		}
		if f.Form == openBeyond {
			driven := "one way"
			if f.Direction != None {
				driven = f.Direction.String()
			}
			return fmt.Sprintf("Track open beyond %s: driven %s past it the reading leaps away, driven back it returns, %s, %s at rest.", amount(m("edge"), u), driven, counted(int(m("leaps")), "leap"), orNone(m("leaps at rest")))
		}
		if f.Form == openBetween {
			return fmt.Sprintf("Dead spot %s%s: the track is open there; driven into it from either side the reading leaps away, driven out it returns, %s.", band(), percent, counted(int(m("leaps")), "leap"))
		}
		how := "the reading holds and then jumps"
		if f.Form == openTrack {
			how = "the reading leaves the track and comes back further on"
		}
		return "Dead spot " + band() + percent + ": " + how + passes + way + "."
	case NoisyTrack:
		if f.Form == noisyBeyond {
			return f.beyondTitle(amount(m("edge"), u), band())
		}
		if f.Form == roughEverywhere {
			if off := m("one in a hundred off by"); off > 5*m("scatter while moving") {
				return fmt.Sprintf("Noisy track all along: while the shaft moves one reading in a hundred is off by %s or more, where it stands none is.", amount(off, u))
			}
			return fmt.Sprintf("Noisy track all along: while the shaft moves the reading scatters by %s, where it stands by %s.", amount(m("scatter while moving"), u), amount(m("scatter at rest"), u))
		}
		return fmt.Sprintf("Noisy track %s%s: %.0f times rougher than the rest%s.", band(), percent, m("roughness over the rest of the track"), passes)
	case EndLoss:
		arrivals := fmt.Sprintf("in %d of %d arrivals", f.Seen, f.Passes)
		if f.Passes == 1 {
			arrivals = "in the only arrival"
		}
		return fmt.Sprintf("Track lost %s near %s: the reading stops %s before the shaft does, %s.", f.Form, amount(f.Volts.Mid(), u), amount(m("hidden travel"), u), arrivals)
	case Hunting:
		if f.has(doesNotAnswer) {
			return fmt.Sprintf("Driven to and fro, %s from %.1f to %.1f s, %.2g Hz, and the reading does not answer.", counted(f.Seen, "reversal"), f.Time.From, f.Time.To, m("frequency"))
		}
		return fmt.Sprintf("Hunting %s: %s from %.1f to %.1f s, %.2g Hz, %s peak to peak.", f.Form, counted(f.Seen, "reversal"), f.Time.From, f.Time.To, m("frequency"), amount(m("amplitude"), u))
	case SpanDrift:
		if f.Form == byTravelTime {
			return fmt.Sprintf("The sensor's scale changes: strokes that take as long as one another differ by up to %.0f %% in what they read.", m("change of the span"))
		}
		return "Feedback span drifts: " + w.driftWords(f) + "."
	case TravelChange:
		return "Travel changes: " + w.driftWords(f) + ", and the transit time changes with it."
	case Jam:
		n := timesText(max(1, f.Seen))
		if strings.HasPrefix(f.Form, jamShortOfProfile) {
			return w.profileJamTitle(f)
		}
		if f.Form == jamStopLost {
			return fmt.Sprintf("Stop comes nearer: near %.0f s the end of the travel going %s moves inward by %s and stays.", f.Time.Mid(), f.Direction, amount(math.Abs(m("high end step")+m("low end step")), u))
		}
		if strings.HasPrefix(f.Form, jamFarInside) || strings.HasPrefix(f.Form, jamDriven) || strings.HasPrefix(f.Form, jamShortOfProfile) {
			// Two supplies are near: it is the sensor's that is meant.
			how := strings.Replace(f.Form, jamFarInside, "far inside the sensor's range", 1)
			return fmt.Sprintf("Stall %s going %s, %s: %s.", band(), f.Direction, n, how)
		}
		tries := ""
		if k := int(m(triesFromThere)); k > 0 {
			tries = fmt.Sprintf("; %s from there got no further", countedTries(k))
		}
		return fmt.Sprintf("Stall short of the stop %s%s going %s, %s%s%s.", band(), percent, f.Direction, n, w.atOnePlace(f), tries)
	case SpanShift:
		return w.spanShiftTitle(f)
	case SlowZone:
		if f.has(currentBeside) {
			speed := "stands and goes on"
			if f.Form != standsAndGoes {
				speed = fmt.Sprintf("%.0f %% of the speed elsewhere", 100*m("speed there over speed elsewhere"))
			}
			return fmt.Sprintf("Slow %s%s: %s%s%s, at %.0f %% of the motor current beside that place.", band(), percent, speed, passes, way, 100*m(currentBeside))
		}
		if f.Form == standsAndGoes {
			return fmt.Sprintf("Catches %s%s: stands up to %.2f s and goes on%s%s.", band(), percent, m("longest stand"), passes, way)
		}
		if f.Form == intoOneStop {
			return fmt.Sprintf("Slow into the stop going %s, %s%s: %.0f %% of the speed elsewhere%s; into the other stop %.0f %%.", f.Direction, band(), percent, 100*m("speed there over speed elsewhere"), passes, 100*m(atOtherStop))
		}
		return fmt.Sprintf("Slow %s%s: %.0f %% of the speed elsewhere%s%s.", band(), percent, 100*m("speed there over speed elsewhere"), passes, way)
	case BentLine:
		return fmt.Sprintf("The line bends: the reading moves at %.0f %% of its speed elsewhere %s%s, gradually and alike both ways.", 100*m("speed there over speed elsewhere"), band(), percent)
	case BentTrack:
		return f.bentTitle(band()+percent, passes)
	case StickSlip:
		if v, ok := f.Measure(swingOfSpeed); ok {
			return fmt.Sprintf("Stick-slip: the speed swings by %.0f %% either way all along the way, every %s, at no fixed places.", v, amount(m("spacing"), u))
		}
		if v, ok := f.Measure("scatter of steps over noise"); ok {
			return fmt.Sprintf("Stick-slip: it moves in little jumps all along the way, %.1f times the noise, in %d of %s.", v, f.Seen, counted(f.Passes, "stretch"))
		}
		return fmt.Sprintf("Stick-slip: %s in %s, up to %.2f s.", counted(f.Seen, "stand"), counted(f.Passes, "move"), m("longest stand"))
	case Pauses:
		if f.has(pushesThere) {
			return fmt.Sprintf("Held near %s: %s one after the other pressed it on a little and it sprang back, where other drives passed.", amount(f.Volts.Mid(), u), counted(f.Seen, "drive"))
		}
		if f.Form == doesNotStart {
			how := "moved nothing"
			if f.has(startedLate) {
				how = "moved nothing or stood at first"
			}
			if f.has(heldAtStall) {
				how += " at stall current"
			}
			return fmt.Sprintf("Does not start: %s %s, for up to %.2f s, at places that other drives passed.", counted(f.Seen, "drive"), how, m("longest stand"))
		}
		if f.Seen == 1 {
			return fmt.Sprintf("Stands under drive once, for %.2f s.", m("longest stand"))
		}
		return fmt.Sprintf("Stands under drive %s at places that do not repeat, up to %.2f s.", timesText(f.Seen), m("longest stand"))
	case GearTurn:
		return f.turnTitle(amount(m("spacing"), u))
	case WeakDrive:
		if v, ok := f.Measure("speed over the good one's"); ok {
			return fmt.Sprintf("Slow everywhere: %.0f %% of the known good speed.", 100*v)
		}
		if f.has(travelGuessed) {
			return fmt.Sprintf("Slow everywhere: at this speed a usual travel takes about %.0f s.", m("time for the travel"))
		}
		return fmt.Sprintf("Slow everywhere: %.0f s for the travel.", m("time for the travel"))
	case Heating:
		return fmt.Sprintf("Each sweep is slower than the last: %.0f %% slower after %s at the same drive.", math.Abs(m(changeOfSpeed)), counted(f.Seen, "sweep"))
	case LoadLost:
		if f.Form == passesStops {
			return fmt.Sprintf("Between %.1f s and %.1f s both stops move outward, by %s and %s, and stay there.", f.Time.From, f.Time.To, amount(m("low stop passed by"), u), amount(m("high stop passed by"), u))
		}
		ways := "both ways"
		if f.Direction != None {
			ways = "going " + f.Direction.String()
		}
		s := fmt.Sprintf("Load lost near %.0f s: from then on it runs %.0f %% faster %s", f.Time.Mid(), m("gain of speed"), ways)
		if f.Form == "" && f.Direction == None && f.has(currentAsBefore) {
			return fmt.Sprintf("Faster from about %.0f s on: by %.0f %% %s, at the same current.", f.Time.Mid(), m("gain of speed"), ways)
		}
		if v, ok := f.Measure("current fell by"); ok {
			s += fmt.Sprintf(" at %.0f %% less current", v)
		}
		if f.Form != "" {
			s += " " + f.Form + " than before"
		}
		return s + "."
	case GearSlip:
		if f.Form == motorTurns {
			return fmt.Sprintf("Stands %s%s going %s, %s, while the current says that the motor turns.", band(), percent, f.Direction, timesText(f.Seen))
		}
		if f.Form == turnsAndGoesOn {
			return fmt.Sprintf("Waits %s%s %s, at %.0f %% of the current it draws beside that place: the motor turns and the shaft does not.", band(), percent, timesText(f.Seen), 100*m(currentBeside))
		}
		s := fmt.Sprintf("Gear slip: the reading falls back %s by about %s under constant drive", timesText(f.Seen), amount(m("size"), u))
		if v, ok := f.Measure("slips per second"); ok {
			s += fmt.Sprintf(", %.1f times a second", v)
		}
		return s + ", " + f.Form + "."
	case OneWay:
		if f.Form != "" {
			return fmt.Sprintf("Driven one way only: going %s the motor gets %.1f V, the other way %.1f V.", f.Direction, m("drive that way"), m("drive the other way"))
		}
		return fmt.Sprintf("Moves one way only: %s going %s moved nothing, the other way it runs.", counted(f.Seen, "drive"), f.Direction)
	case NoMotion:
		if f.Form == readsNoise {
			return fmt.Sprintf("No position: driven for %.1f s and at rest, the reading swings by up to %s as noise or hum does.", m("driven"), amount(m("largest change of feedback"), u))
		}
		s := fmt.Sprintf("No motion: driven for %.1f s, the reading changed by no more than %s", m("driven"), amount(m("largest change of feedback"), u))
		if f.Form != "" {
			s += " (" + f.Form + ")"
		}
		return s + "."
	case NoDrive:
		if f.Form == wokenUp {
			return fmt.Sprintf("No drive: the power came on at %.1f s, and in the %.0f s after it the motor was never driven.", m("power came on"), f.Time.To-m("power came on"))
		}
		return "No drive: the motor was never driven in this capture."
	case HalfDrive:
		return w.halfDriveTitle(f)
	case AtRail:
		if f.Form == crushed {
			return fmt.Sprintf("Feedback from %s to %s only, next to a rail, however it is driven.", amount(f.Volts.From, u), amount(f.Volts.To, u))
		}
		if strings.HasPrefix(f.Form, aboveSupply) {
			level := amount(m("level"), u)
			if f.has(channelEnds) {
				level += " or more"
			}
			return fmt.Sprintf("Feedback reads %s, above what its supply can give, for up to %.1f s (%.0f %% of the capture).", level, m("longest"), m("share of the capture"))
		}
		rail, always := strings.CutSuffix(f.Form, allTheTime)
		level := f.Volts.From
		if rail == "high" {
			level = f.Volts.To
		}
		if always {
			return fmt.Sprintf("Feedback at the %s rail (%s) all the time.", rail, amount(level, u))
		}
		return fmt.Sprintf("Feedback at the %s rail (%s), for up to %.1f s (%.0f %% of the capture).", rail, amount(level, u), m("longest"), m("share of the capture"))
	case Dropouts:
		return fmt.Sprintf("Signal drop-outs: %s while moving, %s at rest.", orNone(m("while moving")), orNone(m("at rest")))
	case RefLoss:
		if f.Form == wanders {
			return fmt.Sprintf("Reference wanders slowly, between %s and %s.", amount(m("level"), w.referenceUnit()), amount(m("highest level"), w.referenceUnit()))
		}
		if f.Form == sinks {
			return fmt.Sprintf("Reference sinks slowly, by %.0f %%, from %s to %s.", m("largest deviation"), amount(m("highest level"), w.referenceUnit()), amount(m("level"), w.referenceUnit()))
		}
		if f.Form == refAbsent {
			return fmt.Sprintf("Reference absent: %.2f V, so the sensor has no supply.", m("level"))
		}
		if f.Form == lowLevel {
			return fmt.Sprintf("Reference low: %.2f V, %.0f %% below its nominal.", m("level"), m("largest deviation"))
		}
		if f.Form == fromThenOn {
			return fmt.Sprintf("From %.1f s on the reference is at %s, up to %.0f %% off the %s before.", f.Time.From, amount(m("level"), w.referenceUnit()), m("largest deviation"), amount(m("level before"), w.referenceUnit()))
		}
		return fmt.Sprintf("Reference disturbed %s, by up to %.0f %%.", timesText(f.Seen), m("largest deviation"))
	case Play:
		return f.playTitle(amount(m("lost travel"), u))
	case Ignored:
		return f.ignoredTitle(m("longest"))
	case Broken:
		return f.brokenTitle(m("longest"))
	case LastingLeap:
		if f.Form == leapUnseen {
			return fmt.Sprintf("Between %.1f s and %.1f s both stops shift by the same, %s.", f.Time.From, f.Time.To, amount(m("step"), u))
		}
		if f.has(stopsMoved) {
			return fmt.Sprintf("At %.1f s the reading leaps from %s to %s in an instant, and so do the stops from then on.", f.Time.From, amount(m("from"), u), amount(m("to"), u))
		}
		return fmt.Sprintf("At %.1f s the reading leaps from %s to %s in an instant %s.", f.Time.From, amount(m("from"), u), amount(m("to"), u), f.Form)
	case DriveShift:
		return f.shiftTitle(amount(m("step"), u))
	case HeavyDrag:
		return fmt.Sprintf("Running, the motor draws %.0f %% of what it draws at the stops, where it is held.", 100*m(torqueShare))
	case FeedResists:
		when := "From"
		if f.Form == resistanceGoes {
			when = "Up to"
		}
		return fmt.Sprintf("%s %.1f s the motor, held at a stop, draws %.0f %% of what it drew at other times at the same volts; while it runs, %.0f %%.", when, m(changesAt), 100*m("current when held, least over most"), 100*m("current running, the same"))
	case UnevenWays:
		return f.unevenTitle()
	case SupplySag:
		if f.Form == shorted {
			return fmt.Sprintf("The drive breaks down %s: %.2f A at only %.1f V, as through %.1f ohm.", timesText(f.Seen), m("current"), m("drive meanwhile"), m("resistance"))
		}
		if f.Form == onePolarity {
			return f.unevenTitle()
		}
		return f.supplyTitle(m("level under load"), m("drop under load"))
	case SelfMotion:
		return fmt.Sprintf("The reading travels by up to %s while no drive is seen, %s.", amount(m("longest undriven travel"), u), timesText(f.Seen))
	case NotAPot:
		return fmt.Sprintf("The feedback wire carries pulses (%.0f changes a second), not a position voltage.", m("changes per second"))
	}
	return string(f.Kind)
}

func (w *work) atOnePlace(f *Finding) string {
	switch f.Form {
	case jamOnePlace:
		if f.Volts.Width() < 0.05*w.ref {
			return ", always at one place"
		}
	case jamPassed:
		return ", passed later"
	case jamScattered:
		return ", at different places"
	}
	return ""
}

// driftWords lists which end moved by how much.
func (w *work) driftWords(f *Finding) string {
	var s []string
	for _, end := range []string{"low end", "high end"} {
		if v, ok := f.Measure(end + " drift"); ok {
			how := shift(v, w.unit())
			if how != endStays {
				how += " over the capture"
			}
			s = append(s, end+" "+how)
		}
		if v, ok := f.Measure(end + " step"); ok {
			how := shift(v, w.unit())
			if how != endStays {
				how += fmt.Sprintf(" in one step near %.0f s", f.Time.Mid())
			}
			s = append(s, end+" "+how)
		}
	}
	return strings.Join(s, ", ")
}

// endStays is said of an end that stays.
const endStays = "unmoved"

// amount is a feedback level or distance with its unit, as many decimals as a
// reader can use: volts to 10 mV and small ones to 1 mV; counts whole.
func amount(v float64, unit string) string {
	digits := 2
	switch size := math.Abs(v); {
	case unit != "V" && size >= 20:
		digits = 0
	case unit != "V" && size >= 2:
		digits = 1
	case unit == "V" && size > 0 && size < 0.095:
		digits = 3
	}
	return fmt.Sprintf("%.*f %s", digits, v, unit)
}

// shift says by how much an end moved and which way.
func shift(v float64, unit string) string {
	switch size := math.Abs(v); {
	case size < 0.005 || unit != "V" && size < 0.5: // less than levels are told to
		return endStays
	case v < 0:
		return "down by " + amount(size, unit)
	default:
		return "up by " + amount(size, unit)
	}
}

// wholeText rounds to a whole number; -0.4 is 0, not -0.
func wholeText(v float64) string {
	return fmt.Sprintf("%.0f", math.Round(v)+0)
}

// percentText rounds a probability to whole percent, without claiming
// certainty.
func percentText(p float64) string {
	switch {
	case p > 0.99:
		return "over 99 %"
	case p < 0.01:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

func contains(s, sub string) bool { return strings.Contains(s, sub) }

// counted is a number with its noun, in the plural where it is not one.
func counted(n int, noun string) string {
	switch {
	case n == 1:
		return "1 " + noun
	case strings.HasSuffix(noun, "ch"), strings.HasSuffix(noun, "s"):
		noun += "e"
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// orNone is a count in which nothing is a word.
func orNone(n float64) string {
	if n < 0.5 {
		return "none"
	}
	return fmt.Sprintf("%.0f", n)
}

// timesText says how often.
func timesText(n int) string {
	switch n {
	case 0:
		return "never"
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

// SecondsText says the time from row to row, or one as short.
func SecondsText(s float64) string {
	switch {
	case s < 0.9995e-3:
		return fmt.Sprintf("%.3g us", 1e6*s)
	case s < 1:
		return fmt.Sprintf("%.3g ms", 1e3*s)
	}
	return fmt.Sprintf("%.3g s", s)
}

func countedTries(n int) string {
	if n == 1 {
		return "one try"
	}
	return fmt.Sprintf("%d tries", n)
}
