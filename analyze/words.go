package analyze

import (
	"fmt"
	"math"
	"strings"
)

// told holds the pieces of a title that most kinds of findings share.
type told struct {
	unit    string
	band    string // where, in volts
	percent string // the same in percent of the span; "" where that is not known
	passes  string // in how many passes; "" where none were counted
	way     string // one direction only; "" for both
}

// tell words what most titles share.
func (w *work) tell(f *Finding) told {
	t := told{unit: w.unit()}
	if f.Volts.Width() < 0.005*w.ref {
		t.band = "at " + amount(f.Volts.Mid(), t.unit)
	} else {
		t.band = "from " + bandText(f.Volts, t.unit)
	}
	if w.span.Width() > 0 {
		t.percent = spanShare(f.Percent)
	}
	switch {
	case f.Passes == 1:
		t.passes = ", in the only pass"
	case f.Passes > 1:
		t.passes = fmt.Sprintf(", in %d of %d passes", f.Seen, f.Passes)
	}
	switch f.Direction {
	case Up:
		t.way = ", going up only"
	case Down:
		t.way = ", going down only"
	}
	return t
}

// spanShare says where in the span seen a place lies, which may reach beyond it: there a
// percentage tells nobody anything.
func spanShare(p Interval) string {
	const near = 2 // %: as far as a span is known
	in := Interval{math.Max(0, math.Min(100, p.From)), math.Max(0, math.Min(100, p.To))}
	switch below, above := p.From < -near, p.To > 100+near; {
	case below && p.To < 0.5: // nothing of it lies within, as rounded
		return " (below the span)"
	case above && p.From > 99.5:
		return " (above the span)"
	case below && above:
		return " (all of the span and beyond)"
	case below:
		return fmt.Sprintf(" (from below the span to %s %% of it)", wholeText(in.To))
	case above:
		return fmt.Sprintf(" (from %s %% of the span to above it)", wholeText(in.From))
	case in.Width() < 1:
		return fmt.Sprintf(" (%s %% of the span)", wholeText(in.Mid()))
	}
	return fmt.Sprintf(" (%s to %s %% of the span)", wholeText(in.From), wholeText(in.To))
}

// title says a finding in one plain sentence, with places and numbers; the
// sentences of each kind stand in words_*.go, by what they are about.
func (w *work) title(f *Finding) string {
	t := w.tell(f)
	switch f.Kind {
	case DeadSpot:
		return f.titleDeadSpot(t)
	case NoisyTrack:
		return f.titleNoisyTrack(t)
	case EndLoss:
		return f.titleEndLoss(t)
	case Hunting:
		return f.titleHunting(t)
	case SpanDrift:
		return w.titleSpanDrift(f)
	case TravelChange:
		return w.titleTravelChange(f)
	case Jam:
		return w.titleJam(f, t)
	case SpanShift:
		return w.spanShiftTitle(f)
	case SlowZone:
		return f.titleSlowZone(t)
	case BentLine:
		return f.titleBentLine(t)
	case BentTrack:
		return f.bentTitle(t.band+t.percent, t.passes)
	case StickSlip:
		return f.titleStickSlip(t)
	case Pauses:
		return f.titlePauses(t)
	case GearTurn:
		return f.turnTitle(amount(f.value(MeasureSpacing), t.unit))
	case WeakDrive:
		return f.titleWeakDrive()
	case Heating:
		return f.titleHeating(t)
	case LoadLost:
		return f.titleLoadLost(t)
	case GearSlip:
		return w.titleGearSlip(f, t)
	case OneWay:
		return f.titleOneWay(t)
	case NoMotion:
		return f.titleNoMotion(t)
	case NoDrive:
		return f.titleNoDrive()
	case HalfDrive:
		return w.halfDriveTitle(f)
	case AtRail:
		return f.titleAtRail(t)
	case Dropouts:
		return f.titleDropouts()
	case RefLoss:
		return w.titleRefLoss(f)
	case Play:
		return f.playTitle(amount(f.value(MeasureLostTravel), t.unit))
	case Ignored:
		return f.ignoredTitle(f.value(MeasureLongest))
	case Broken:
		return f.brokenTitle(f.value(MeasureLongest))
	case LastingLeap:
		return f.titleLastingLeap(t)
	case DriveShift:
		return f.shiftTitle(amount(f.value(MeasureStep), t.unit))
	case StaysOn:
		return f.titleStaysOn()
	case HeavyDrag:
		return f.titleHeavyDrag()
	case FeedResists:
		return f.titleFeedResists()
	case UnevenWays:
		return f.unevenTitle()
	case SupplySag:
		return f.titleSupplySag()
	case SelfMotion:
		return f.titleSelfMotion(t)
	case Unexplained:
		return f.titleUnexplained(t)
	case NotAPot:
		return f.titleNotAPot()
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
	// Beside an end that moves, a twentieth of its way at the other is none to speak of.
	most := 0.0
	for _, end := range []string{"low end", "high end"} {
		most = math.Max(most, math.Max(math.Abs(f.value(EndMeasure(end, "drift"))), math.Abs(f.value(EndMeasure(end, "step")))))
	}
	shift := func(v float64, unit string) string {
		if math.Abs(v) < most/20 {
			return endStays
		}
		return shift(v, unit)
	}
	for _, end := range []string{"low end", "high end"} {
		if v, ok := f.Measure(EndMeasure(end, "drift")); ok {
			how := shift(v, w.unit())
			if how != endStays {
				how += " over the capture"
			}
			s = append(s, end+" "+how)
		}
		if v, ok := f.Measure(EndMeasure(end, "step")); ok {
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

// bandText is a band of feedback levels with its unit, once.
func bandText(band Interval, unit string) string {
	return strings.TrimSuffix(amount(band.From, unit), " "+unit) + " to " + amount(band.To, unit)
}

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
