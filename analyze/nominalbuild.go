package analyze

import (
	"fmt"
	"math"
	"strings"

	"threewire/analyze/nominal"
)

// Doubt is why a capture, or a group of them, makes no profile.
type Doubt struct {
	Capture string // source; "" when it concerns several
	Text    string
	Kind    DoubtKind
}

// DoubtKind says what sort of doubt it is.
type DoubtKind int

// The doubts: a fault or a disagreement may be overruled by someone who knows
// better, what is missing cannot.
const (
	ShowsFault DoubtKind = iota
	Disagree
	NotDecided // the verdict on the capture is "cannot tell"
	Missing    // stops or sweeps that the profile needs
)

func (d Doubt) String() string {
	if d.Capture == "" {
		return d.Text
	}
	return d.Capture + ": " + d.Text
}

// steady is what a capture says for a profile.
type steady struct {
	c         *Capture
	low, high float64
	sweeps    [2][]fullSweep // down, up: stop to stop
}

// fullSweep is one travel from stop to stop: s at a mean drive in V.
type fullSweep struct{ time, drive float64 }

// steadyOf picks stops and full sweeps out of a capture.
func steadyOf(c *Capture) steady {
	s := steady{c: c, low: math.NaN(), high: math.NaN()}
	for _, x := range c.Stops {
		switch {
		case x.Extreme && x.Direction == Down:
			s.low = x.Level
		case x.Extreme && x.Direction == Up:
			s.high = x.Level
		}
	}
	if !(s.high > s.low) {
		return s
	}
	for _, x := range c.Sweeps {
		if x.Stalled && x.FromStall && x.Transit > 0 && x.High > x.Low {
			d := side(x.Direction)
			s.sweeps[d] = append(s.sweeps[d], fullSweep{x.Transit * (s.high - s.low) / (x.High - x.Low), x.DriveMean})
		}
	}
	return s
}

// leastSweeps is the number of full sweeps each way that a profile needs: one
// says nothing of the spread.
const leastSweeps = 2

// BuildNominal makes a profile of known good captures of one actuator, or of
// several of one kind. The doubts say why it should not be used; it is nil
// when something that it needs is missing.
//
// The stops are the medians over the captures, the travel times the medians
// over all full sweeps, each brought to the median drive by the speed-torque
// line of a DC motor under the usual load. The tolerances are those of
// its defaults for one capture; from three captures on they are three
// standard deviations between captures, if that is more than what sampling
// and noise leave.
func BuildNominal(captures ...*Capture) (*nominal.Profile, []Doubt) {
	var doubts []Doubt
	doubt := func(k DoubtKind, c *Capture, format string, a ...any) {
		d := Doubt{Kind: k, Text: fmt.Sprintf(format, a...)}
		if c != nil {
			d.Capture = c.Source
		}
		doubts = append(doubts, d)
	}
	if len(captures) == 0 {
		doubt(Missing, nil, "no capture to make a profile of")
		return nil, doubts
	}
	var all []steady
	missing := false
	var count [2]int
	for _, c := range captures {
		v := Judge(c).Verdict
		switch v.Conclusion {
		case NoFault:
		case CannotTell:
			doubt(NotDecided, c, "the verdict is \"cannot tell\", so it is not known to be good. %s", v.Summary)
		default:
			doubt(ShowsFault, c, "shows a fault: %s (%s). %s", v.Conclusion, percentText(v.Probability), v.Summary)
		}
		s := steadyOf(c)
		for i, x := range []float64{s.low, s.high} {
			if math.IsNaN(x) {
				doubt(Missing, c, "the %s stop was never run into; drive it from stop to stop and hold each for a second", [...]string{"low", "high"}[i])
				missing = true
			}
		}
		for i := range count {
			count[i] += len(s.sweeps[i])
		}
		all = append(all, s)
	}
	stops := !missing
	for i, n := range count {
		if n < leastSweeps && stops {
			doubt(Missing, nil, "%s going %s, at least %d are needed, better six; drive it from stop to stop and hold each for a second", counted(n, "full sweep"), Direction(2*i-1), leastSweeps)
			missing = true
		}
	}
	first := captures[0]
	for _, c := range captures[1:] {
		if c.Unit != first.Unit || c.driveKnown() != first.driveKnown() {
			doubt(Missing, c, "feedback in %s and drive in %s, %s has %s and %s: give captures of one kind", c.Unit, driveUnit(c), first.Source, first.Unit, driveUnit(first))
			missing = true
		}
		if c.Free != first.Free {
			doubt(Missing, c, "coupled and uncoupled captures make two profiles")
			missing = true
		}
	}
	if missing {
		return nil, doubts
	}
	p := &nominal.Profile{Unit: first.Unit, Free: first.Free, Reference: first.Reference, Sense: first.Sense}
	for i := range all[1:] {
		if w := differ(&all[0], &all[i+1]); w != "" {
			doubt(Disagree, captures[i+1], "does not agree with %s: %s", first.Source, w)
		}
	}
	measureProfile(p, all)
	for _, s := range all {
		p.Origin = append(p.Origin, fmt.Sprintf("%s: %d full sweeps up, %d down", s.c.Source, len(s.sweeps[1]), len(s.sweeps[0])))
	}
	for _, d := range doubts {
		p.Origin = append(p.Origin, "in spite of: "+d.String())
	}
	return p, doubts
}

func driveUnit(c *Capture) string {
	if c.driveKnown() {
		return "V"
	}
	return "polarity or clipped"
}

// measureProfile fills in levels, times and tolerances.
func measureProfile(p *nominal.Profile, all []steady) {
	var low, high, drive []float64
	for _, s := range all {
		low, high = append(low, s.low), append(high, s.high)
		for _, d := range s.sweeps {
			for _, x := range d {
				drive = append(drive, x.drive)
			}
		}
	}
	p.Low, p.High = medianOf(low), medianOf(high)
	usual := medianOf(drive)
	if all[0].c.driveKnown() {
		p.DriveVolts = usual
	}
	// Each sweep at the usual drive; each capture's mean pace for the spread
	// between captures, which is what the next capture will differ by.
	var times [2][]float64
	var paces []float64
	for _, s := range all {
		var own []float64
		for d, list := range s.sweeps {
			for _, x := range list {
				t := x.time * relativeSpeed(x.drive/usual, usualLoad, 0)
				times[d] = append(times[d], t)
				own = append(own, t)
			}
		}
		if len(own) > 0 {
			paces = append(paces, medianOf(own))
		}
	}
	p.TransitDown, p.TransitUp = medianOf(times[0]), medianOf(times[1])
	p.Fill()
	const several = 3
	if len(all) >= several {
		// Below 1.5 % of the span and 4 % of the speed lie play, seals and the
		// sampling of one sweep (common practice, no source).
		p.Tolerance = math.Max(0.015*p.Span(), 3*math.Max(deviation(low), deviation(high)))
		p.TransitTolerance = math.Max(0.04, 3*deviation(paces)/medianOf(paces))
		p.Tolerance = math.Min(p.Tolerance, 0.2*p.Span())
		p.TransitTolerance = math.Min(p.TransitTolerance, 0.4)
	}
}

// deviation is the standard deviation of a few values.
func deviation(x []float64) float64 {
	mean, sum := 0.0, 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sum += (v - mean) * (v - mean)
	}
	return math.Sqrt(sum / math.Max(1, float64(len(x)-1)))
}

// differ says in what two captures differ too much to be of one kind of
// actuator in good order, or "".
func differ(a, b *steady) string {
	var out []string
	span := math.Min(a.high-a.low, b.high-b.low)
	if !(span > 0) {
		return ""
	}
	tol := 2*nominal.StopShare*span + 6*math.Max(a.c.Noise, b.c.Noise)
	for i, x := range [][2]float64{{a.low, b.low}, {a.high, b.high}} {
		if d := x[1] - x[0]; math.Abs(d) > tol {
			out = append(out, fmt.Sprintf("%s stop %.2f and %.2f %s (tolerance %.2f)", [...]string{"low", "high"}[i], x[0], x[1], a.c.Unit, tol))
		}
	}
	if a.c.Sense*b.c.Sense < 0 {
		out = append(out, "positive drive raises the reading in one and lowers it in the other")
	}
	for d := range a.sweeps {
		if len(a.sweeps[d]) == 0 || len(b.sweeps[d]) == 0 {
			continue
		}
		ratio, band := speedRatio(a.c, b.c, a.sweeps[d], b.sweeps[d])
		if !band.Has(ratio) {
			out = append(out, fmt.Sprintf("speed going %s %.0f %% of the other's (drive, load, warmth and make allow %.0f to %.0f %%)", Direction(2*d-1), 100*ratio, 100*band.From, 100*band.To))
		}
	}
	return strings.Join(out, "; ")
}

// speedRatio is the speed of b over that of a, at a's drive, and the range in
// which good actuators of one kind lie.
func speedRatio(ca, cb *Capture, a, b []fullSweep) (float64, Interval) {
	pick := func(s []fullSweep) (t, v float64) {
		var ts, vs []float64
		for _, x := range s {
			ts, vs = append(ts, x.time), append(vs, x.drive)
		}
		return medianOf(ts), medianOf(vs)
	}
	ta, va := pick(a)
	tb, vb := pick(b)
	drive := vb / va
	low, high := drive, drive
	if !ca.driveKnown() || !cb.driveKnown() {
		drive = 1
		low, high = 11/14.5, 14.5/11 // an idle and a charging battery
	}
	central := relativeSpeed(drive, usualLoad, 0)
	if !(central > 0) {
		return 1, Interval{0, math.Inf(1)}
	}
	band := noInterval()
	for _, k := range []float64{low, high} {
		x := speedBand(k, ca.Free || cb.Free)
		band = band.widen(x.From / central).widen(x.To / central)
	}
	return ta / tb / central, Interval{band.From * (1 - nominal.Pace), band.To * (1 + nominal.Pace)}
}
