package analyze

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"threewire/analyze/nominal"
)

// missedChance is the chance that something which showed in seen of passes
// shows in none of n more when nothing has changed: the beta-binomial
// prediction from a uniform prior on its chance per pass (Laplace's rule of
// succession, taken over n passes),
//
//	product over j < n of (passes - seen + 1 + j) / (passes + 2 + j).
//
// The passes must be independent of each other.
func missedChance(seen, passes, n int) float64 {
	seen = max(0, min(seen, passes))
	p := 1.0
	for j := range n {
		p *= float64(passes-seen+1+j) / float64(passes+2+j)
	}
	return p
}

// bodily tells whether a finding is of a body: an object in the way, a load at one place,
// teeth that are gone. What stopped every drive, slowed every pass or let go in each of
// them does not let one through by chance, as a contact does: it is there or it is not.
func (f *Finding) bodily() bool {
	return f.Kind == Jam || f.Kind == SlowZone || f.Kind == GearSlip
}

// bodyMissed is [missedChance] for a body: it weighs two stories evenly, that the body
// shows in every pass, and that it comes and goes with a chance per pass of which nothing
// is known. That it showed in all of n passes is 1 by the first and 1/(n+1) by the
// second, so that 1/(n+2) is left for the second, by which alone a body may be missed.
// Had it once not shown, only the second is left.
func bodyMissed(seen, passes, n int) float64 {
	p := missedChance(seen, passes, n)
	if seen >= passes && n > 0 {
		p /= float64(passes + 2)
	}
	return p
}

// bodyPassesFor is [passesFor] for a body.
func bodyPassesFor(seen, passes int, limit float64) int {
	n := 0
	for n < 1000 && bodyMissed(seen, passes, n) > limit {
		n++
	}
	return n
}

// passesFor is the least number of clean passes that bring the chance of
// having missed it to the limit, at most 1000.
func passesFor(seen, passes int, limit float64) int {
	n := 0
	for p := 1.0; p > limit && n < 1000; n++ {
		p *= float64(passes-seen+1+n) / float64(passes+2+n)
	}
	return n
}

// seenBefore is in how many of the passes (arrivals, drives) that could have
// shown it a finding showed, and what they are called.
func seenBefore(b *Capture, f *Finding) (seen, passes int, unit string) {
	if seen, passes = b.lasted(f); seen > 0 {
		return seen, passes, "drives"
	}
	switch f.Kind {
	case Jam:
		// Every drive that way into the place ended there, or went past it.
		n := b.chances(f, f.Volts)
		return f.Seen, max(f.Seen, f.Passes, n), fmt.Sprintf("drives past %s going %s", amount(f.Volts.Mid(), b.Unit), f.Direction)
	case GearSlip:
		// Teeth that let go in one pass do so several times: a pass counts once.
		return max(1, min(f.Seen, f.Passes)), max(1, f.Passes, b.chances(f, f.Volts)), f.passesOver(b.Unit)
	case DeadSpot, NoisyTrack, BentTrack, SlowZone:
		return f.Seen, max(f.Seen, f.Passes), f.passesOver(b.Unit)
	case EndLoss:
		return f.Seen, max(f.Seen, f.Passes), "arrivals at that stop"
	case Hunting:
		// One spell, and the times it settled there without one.
		calm := 0
		for _, s := range b.strokes() {
			if !f.Time.Overlaps(Interval{s.from, s.to}) && s.endsIn(f.Volts, 0.05*b.Span.Width()) {
				calm++
			}
		}
		return 1, 1 + calm, "settlings at that place"
	case HalfDrive:
		return max(1, f.Seen), max(1, f.Seen), "drives of the other polarity"
	}
	// A state of every drive.
	n := max(1, b.chances(f, f.Volts))
	if f.Kind == Pauses || f.Kind == OneWay {
		return min(f.Seen, max(n, f.Seen)), max(n, f.Seen), "drives"
	}
	return n, n, "drives"
}

// passesOver names the passes that would show a finding, in the unit of its capture: of its
// direction, if it has one.
func (f *Finding) passesOver(unit string) string {
	s := "passes over " + bandText(f.Volts, unit)
	if f.Direction != None {
		s += fmt.Sprintf(" going %s", f.Direction)
	}
	return s
}

// leastPast is how far past a place a drive must go to have passed it, as a share of the
// travel: as much as healthy stops give (common practice, no source).
const leastPast = 0.02

// past counts the drives of a capture that went past a band in a direction.
func (c *Capture) past(band Interval, dir Direction) (n int) {
	far := leastPast * c.Span.Width()
	for _, s := range c.strokes() {
		if s.dir == dir && (dir == Up && s.low < band.From && s.high > band.To+far || dir == Down && s.high > band.To && s.low < band.From-far) {
			n++
		}
	}
	return n
}

// comingBack counts the drives after a repair that went past the place of a jam the other
// way. What stopped every drive lies there in coming back as in going there, and a shaft
// that comes from beyond has gone past; but where one came back past it before the repair
// as well, it is one that shows in one direction only, or was not there yet, and coming
// back says nothing: then the drives are counted that way only, before and after alike.
func comingBack(b *Capture, f *Finding, a *Capture) int {
	if f.Kind != Jam || f.Direction == None || b.past(f.Volts, -f.Direction) > 0 {
		return 0
	}
	if seen, of, _ := seenBefore(b, f); seen < of {
		return 0
	}
	return a.past(placeAfter(b, f, a), -f.Direction)
}

// chances counts the passes (arrivals, drives) of a capture that would show a
// finding at the band; those of its direction, if it has one.
func (c *Capture) chances(f *Finding, band Interval) int {
	slack := 0.01 * c.Span.Width()
	// What lay beyond a stop that is reached lies at that stop now.
	for _, s := range c.Stops {
		switch {
		case s.Extreme && s.Direction == Down:
			band = Interval{math.Max(band.From, c.Span.From), math.Max(band.To, c.Span.From)}
		case s.Extreme && s.Direction == Up:
			band = Interval{math.Min(band.From, c.Span.To), math.Min(band.To, c.Span.To)}
		}
	}
	n := 0
	switch f.Kind {
	case DeadSpot, NoisyTrack, BentTrack, SlowZone, GearSlip:
		for _, s := range c.strokes() {
			if (f.Direction == None || s.dir == f.Direction) && s.low <= band.From+slack && s.high >= band.To-slack {
				n++
			}
		}
	case Jam:
		for _, d := range []Direction{Down, Up} {
			if f.Direction == None || d == f.Direction {
				n += c.past(band, d)
			}
		}
	case EndLoss:
		for _, s := range c.Stops {
			if s.Extreme && s.Direction == f.Direction {
				n += s.Stalls
			}
		}
	case Hunting:
		for _, s := range c.strokes() {
			if s.endsIn(band, 5*slack) {
				n++
			}
		}
	case WeakDrive, StickSlip, GearTurn, SpanShift:
		n = len(c.Sweeps)
	case NoDrive, AtRail, RefLoss, NotAPot:
		n = len(c.Moves)
	case SupplySag:
		for _, m := range c.Moves {
			if f.Form == sagSupply || f.Form == onePolarity && m.Direction == f.Direction || f.Form != onePolarity && m.Stalled > 0 {
				n++
			}
		}
	case HalfDrive:
		var by [2]int
		for _, m := range c.Moves {
			by[side(Direction(m.Polarity))]++
		}
		n = min(by[0], by[1])
	default:
		for _, m := range c.Moves {
			if m.Moving > 0 && (f.Direction == None || m.Direction == f.Direction) {
				n++
			}
		}
	}
	return n
}

// stroke is a run of moves in one direction.
type stroke struct {
	dir       Direction
	low, high float64
	from, to  float64 // s
}

// endsIn tells whether the stroke ends in a band, give or take slack.
func (s *stroke) endsIn(band Interval, slack float64) bool {
	end := s.high
	if s.dir == Down {
		end = s.low
	}
	return end >= band.From-slack && end <= band.To+slack
}

// strokes joins the moves: pulses and short pauses do not make passes of
// their own.
func (c *Capture) strokes() []stroke {
	var out []stroke
	for _, m := range c.Moves {
		if m.Direction == None {
			continue
		}
		lo, hi := math.Min(m.Start, m.End), math.Max(m.Start, m.End)
		if n := len(out); n > 0 && out[n-1].dir == m.Direction && m.Time.From-out[n-1].to < 2 {
			s := &out[n-1]
			s.low, s.high, s.to = math.Min(s.low, lo), math.Max(s.high, hi), m.Time.To
			continue
		}
		out = append(out, stroke{m.Direction, lo, hi, m.Time.From, m.Time.To})
	}
	return out
}

// inTime tells whether a finding is of events that come at moments, so that time
// without one counts, if it did not last.
func (f *Finding) inTime() bool {
	switch f.Kind {
	case Dropouts, RefLoss, DriveShift, Ignored, Broken, LastingLeap, SupplySag, SelfMotion, AtRail:
		return true
	}
	return false
}

// overTime is the exact conditional test of events in time: of n events that
// came at one rate, all fell into the time before. need is the time, in s,
// that is still missing.
func overTime(b *Capture, f *Finding, after []*Capture) (seen, of int, p, need float64) {
	n := max(1, f.Seen)
	t := 0.0
	for _, a := range after {
		t += a.Duration
	}
	share := b.Duration / (b.Duration + t)
	p = math.Pow(share, float64(n))
	return n, n, p, b.Duration*(math.Pow(repairLimit, -1/float64(n))-1) - t
}

// trendAfter is the chance that a trend as steep as before would show as
// little slope as after: by the standard error of the least-squares slope over
// the sweeps after, with Student's t.
func trendAfter(f *Finding, after []*Capture) (sweeps int, p, need float64) {
	p = 1
	for _, a := range after {
		best := 1.0
		for _, d := range []Direction{Down, Up} {
			var t, y []float64
			for _, s := range a.Sweeps {
				if s.Direction != d {
					continue
				}
				t = append(t, s.Time.From)
				switch {
				case f.Kind == Heating:
					y = append(y, s.Rate/math.Max(s.DriveMean, 1e-9))
				case d == Up:
					y = append(y, s.High)
				default:
					y = append(y, s.Low)
				}
			}
			old := oldSlope(f, d, y)
			if len(t) < 4 || old == 0 {
				continue
			}
			slope, se := slopeError(t, y)
			// Only a trend that fell counts, not one that turned.
			if se > 0 && math.Abs(slope) < math.Abs(old)/2 {
				dist := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(len(t) - 2)}
				best = math.Min(best, dist.Survival((math.Abs(old)-math.Abs(slope))/se))
			}
		}
		sweeps += len(a.Sweeps)
		p = math.Min(p, best)
	}
	return sweeps, p, float64(max(2, max(8, f.Seen)-sweeps))
}

// slopeError is the least-squares slope with its standard error. Readings that
// repeat to the last step are still known only to a thousandth.
func slopeError(t, y []float64) (slope, se float64) {
	slope, _, rss := newFitter(t, y).line(0, len(t))
	mean, squares := 0.0, 0.0
	for _, x := range t {
		mean += x / float64(len(t))
	}
	for _, x := range t {
		squares += (x - mean) * (x - mean)
	}
	se = math.Sqrt(rss / float64(len(t)-2) / squares)
	return slope, math.Max(se, 1e-3*math.Abs(medianOf(y))/math.Sqrt(squares))
}

// oldSlope is the trend of before per second, in the unit of y.
func oldSlope(f *Finding, d Direction, y []float64) float64 {
	if !(f.Time.Width() > 0) || len(y) == 0 {
		return 0
	}
	if f.Kind == Heating {
		v, _ := f.Measure(changeOfSpeed)
		return v / 100 * medianOf(y) / f.Time.Width()
	}
	name := MeasureLowEndDrift
	if d == Up {
		name = MeasureHighEndDrift
	}
	v, _ := f.Measure(name)
	return v / f.Time.Width()
}

// blindTo says why a capture could not have shown a finding of another, or
// "": other coupling, coarser rate or noise, a channel that is missing, or a
// stronger drive.
func blindTo(b *Capture, f *Finding, a *Capture) string {
	if b.Free != a.Free {
		return fmt.Sprintf("it was found %s, %s was taken %s; take one like before", nominal.DoorWords(b.Free), a.Source, nominal.DoorWords(a.Free))
	}
	if f.Kind == LoadLost {
		return "a link that is broken from the start moves no load and looks healthy; watch the door, or compare the speed with a profile (--profile)"
	}
	if f.Kind == SpanShift || f.Kind == WeakDrive && f.Form == weakAgainstProfile {
		if a.Against == nil || !a.Against.Used {
			return "it shows only against a profile of a good one (--profile)"
		}
	}
	if f.Kind == RefLoss && a.lacks(RefLoss, "reference") {
		return "the reference was not logged; log it as before"
	}
	if off, _ := f.Measure(MeasureLargestDeviation); f.Kind == RefLoss && (f.Form == sinks || f.Form == wanders) && a.Duration*off < 3*b.Duration {
		// By so much it would have to move to be seen, see findReference.
		return fmt.Sprintf("it came slowly, and in the %.0f s of %s it would not have moved by 3 %%; record longer", a.Duration, a.Source)
	}
	if f.Kind == SupplySag && (f.Form == sagSupply || f.Form == neverFull) && !a.supplyLogged {
		return "the supply was not logged; log it as before"
	}
	if f.Kind == SupplySag && f.Form != sagSupply && !a.driveKnown() {
		return "the drive was not logged in volts; log it as before"
	}
	if (f.Kind == HeavyDrag || f.Kind == FeedResists) && !a.current {
		return "the motor current was not logged; log it as before"
	}
	if a.Unit != b.Unit {
		switch {
		case f.Kind == SpanDrift || f.Kind == TravelChange || f.Kind == Heating,
			f.placed() && !(sameShare(b, a, f.Volts).From <= sameShare(b, a, f.Volts).To):
			return fmt.Sprintf("%s has the feedback in %s, before it was in %s; log it as before", a.Source, a.Unit, b.Unit)
		}
	}
	// A trace of the thing must stand out of noise and steps of the reading.
	size := math.Inf(1)
	switch f.Kind {
	case DeadSpot, NoisyTrack, SlowZone:
		size = f.Volts.Width()
	case NoMotion: // any travel that stands out shows that it moves again
		size = a.Span.Width()
	}
	rate := 0.0
	for _, p := range a.Profiles {
		rate = math.Max(rate, p.Nominal)
	}
	coarse := func(c *Capture) float64 { return math.Max(6*c.Noise+c.Quantum, 2*rate*c.Step) }
	now, then := coarse(a), coarse(b)
	if a.Unit != b.Unit && a.Span.Width() > 0 { // as shares of the travel
		now *= b.Span.Width() / a.Span.Width()
	}
	// Hunting is told by how the drive turns over, and not by how finely the shaft is read.
	if f.Kind != Hunting && now > 1.5*then && (math.IsInf(size, 1) && now > 3*then || now > size/3) {
		return fmt.Sprintf("%s resolves %.3f %s, before it was %.3f %s; log as finely as before", a.Source, now, a.Unit, then, b.Unit)
	}
	if w := slowAsBefore(b, f, a) + endsThere(b, f, a); w != "" { // of different kinds of findings
		return w
	}
	switch f.Kind {
	case Jam, SlowZone, StickSlip, Pauses, WeakDrive, HeavyDrag, Heating, GearSlip, GearTurn:
		if b.driveKnown() && a.driveKnown() {
			if x, y := b.fullDrive(), a.fullDrive(); y > 1.15*x {
				return fmt.Sprintf("it was driven with %.1f V instead of %.1f V, which may overcome it; repeat it at the same voltage", y, x)
			}
		}
	}
	return ""
}

// fullDrive is the larger drive level, V.
func (c *Capture) fullDrive() float64 {
	return math.Max(math.Abs(c.Levels.High), math.Abs(c.Levels.Low))
}
