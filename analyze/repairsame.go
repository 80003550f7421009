package analyze

import (
	"fmt"
	"slices"
	"strings"
)

// sameTrouble tells whether a finding after the repair is one of before: the
// same kind at the same place, or another form of what is wrong at that place.
func sameTrouble(b *Capture, f *Finding, a *Capture, g *Finding) bool {
	if f.Direction != None && g.Direction != None && f.Direction != g.Direction {
		return false
	}
	place := sameShare(b, a, f.Volts)
	if !(place.From <= place.To) && f.Kind == g.Kind {
		place = asTaken(b, a, f.Volts)
	}
	slack := 0.03 * a.Span.Width()
	near := place.From-slack <= g.Volts.To && g.Volts.From <= place.To+slack
	// A loss of signal too rare for a place of its own, but where the track
	// failed before.
	if g.Kind == Dropouts && (f.Kind == DeadSpot || f.Kind == NoisyTrack || f.Kind == EndLoss) {
		for _, o := range g.Places {
			if place.From-slack <= o.Volts.To && o.Volts.From <= place.To+slack {
				return true
			}
		}
		return false
	}
	if f.Kind == g.Kind {
		return !f.placed() || near
	}
	return near && f.placed() && g.placed() && f.lead() == g.lead()
}

// asTaken carries a band to a capture in another unit by the sensor's supplies as they are
// taken to be. That may be wrong, and proves nothing gone; a trouble of one kind that lies
// at one place by it is hardly another one.
func asTaken(from, to *Capture, band Interval) Interval {
	if from.Unit == to.Unit || !(from.Reference > 0) || !(to.Reference > 0) {
		return nowhere
	}
	k := to.Reference / from.Reference
	return Interval{k * band.From, k * band.To}
}

// otherLook tells whether a finding after the repair is what else the one of before
// looked like: a motor that stands shows no motion, and before that the reading lay
// at a rail besides, which said more.
func otherLook(b *Capture, f *Finding, a *Capture, g *Finding) bool {
	return f.Event != "" && slices.ContainsFunc(b.Findings, func(o Finding) bool {
		return o.Event == f.Event && o.Kind != f.Kind && sameTrouble(b, &o, a, g)
	})
}

// unread tells whether the drives that seem to move nothing all fall into the time in
// which the reading lay at a rail, by another finding: then nobody saw whether they
// moved anything.
func (c *Capture) unread(f, rail *Finding) bool {
	if f.Kind != OneWay || rail.Kind != AtRail {
		return false
	}
	for _, m := range c.Moves {
		if m.Direction == f.Direction && m.Time.inCommon(rail.Time) < 0.5*m.Duration() {
			return false
		}
	}
	return true
}

// placeAfter carries the place of a finding of before to a capture after the repair: a
// stall at the end of what was driven before is no end of the travel, of which shares
// could be taken, and lies at its level. So does one where the
// door came off, or where the travel is not as wide as it was by more than tracks differ:
// shares of two travels are not of one place.
func placeAfter(b *Capture, f *Finding, a *Capture) Interval {
	if f.Kind == Jam && (b.endsAt(f.Direction, f.Volts) || loadWasLost([]*Capture{b}) || b.otherTravel(a)) {
		if k, ok := levelScale(b, a); ok {
			return Interval{k * f.Volts.From, k * f.Volts.To}
		}
	}
	return sameShare(b, a, f.Volts)
}

// otherTravel tells whether the travels of two captures logged alike differ by more than
// the tracks of two actuators at one door.
func (c *Capture) otherTravel(a *Capture) bool {
	ratio := a.Span.Width() / c.Span.Width()
	return a.Unit == c.Unit && a.Sense == c.Sense && (ratio > 1+repairSpan || ratio < 1/(1+repairSpan))
}

// endsThere says that the travel ends in a capture after a repair where a jam of before
// was, or "": past its end nothing can be driven, however often, and a stop and what lies
// at one look alike.
func endsThere(b *Capture, f *Finding, a *Capture) string {
	if f.Kind != Jam {
		return ""
	}
	at, room := placeAfter(b, f, a), leastPast*a.Span.Width()
	for _, s := range a.Stops {
		if s.Extreme && s.Direction == f.Direction && (f.Direction == Up && s.Level <= at.To+room || f.Direction == Down && s.Level >= at.From-room) {
			return fmt.Sprintf("in %s the travel ends at %s going %s, and no drive goes past its end; whether it ends where it should, the door itself tells, or the good side (--good-side)", a.Source, amount(s.Level, a.Unit), f.Direction)
		}
	}
	return ""
}

// blamesStop tells whether the finding is no more than where a stop lies.
func (f *Finding) blamesStop() bool {
	return f.Kind == Jam && (strings.HasPrefix(f.Form, jamFarInside) || strings.HasPrefix(f.Form, jamDriven))
}

// endsAt tells whether the outermost stop of a side lies at a place: what
// ended there before ends there still, and is nothing new.
func (c *Capture) endsAt(d Direction, at Interval) bool {
	near := repairSpan / 2 * c.Span.Width()
	for _, s := range c.Stops {
		if s.Extreme && s.Direction == d && s.Level > at.From-near && s.Level < at.To+near {
			return true
		}
	}
	return false
}
