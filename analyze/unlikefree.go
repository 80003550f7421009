package analyze

import (
	"fmt"
	"math"
	"strings"
)

// unlikeFree says of uncoupled captures what differs from a coupled one by more than
// a door makes, and asks whether both are of one actuator. A door with a good
// motor takes half of its speed and an obstacle some of its way (common practice,
// no source); it changes neither the sensor's supply nor the control's.
//
// Nor does a door make its actuator faster both ways: its weight helps one way only.
func unlikeFree(captures []*Capture) []string {
	if longerThanFree(captures) != "" {
		return nil // said, and not compared
	}
	var out []string
	for _, x := range captures {
		for _, c := range captures {
			if !x.Free || c.Free {
				continue
			}
			why, ask, _ := unlikeCoupled(x, c)
			if past := pastFreeStop(x, c); past != "" {
				why, ask = append(why, past), "are both of one actuator?"
			} else if early := stopsEarly(x, c); early != "" && len(why) == 0 {
				why, ask = []string{early}, "does the door make that, or are they of two actuators?"
			}
			if len(why) > 0 {
				out = append(out, fmt.Sprintf("uncoupled, %s is unlike %s: %s; %s", x.Source, c.Source, strings.Join(why, "; "), ask))
			}
		}
	}
	return out
}

// unlikeCoupled says what differs from a coupled capture by more than a door makes, what
// to ask, and whether no door can make it: then it is evidently another actuator.
func unlikeCoupled(x, c *Capture) (why []string, ask string, evident bool) {
	const way, pace, supply = 1.25, 2, 1.1
	const swappedPace = 1.2     // more than warmth and grease make from one capture to the next (common practice, no source)
	const supplyPace = 15. / 11 // an engine that charges over a tired battery: speed goes with the volts
	ask = "are both of one actuator?"
	if x.refLogged && c.refLogged && !x.shows(RefLoss) && !c.shows(RefLoss) && x.Reference > 0 && c.Reference > 0 && x.Unit == c.Unit {
		if q := x.Reference / c.Reference; q > supply || q < 1/supply {
			why = append(why, fmt.Sprintf("its sensor is supplied with %s, the coupled one with %s", amount(x.Reference, x.Unit), amount(c.Reference, c.Unit)))
			evident = true
		}
	}
	k, ok := levelScale(x, c)
	if !ok {
		return why, ask, evident
	}
	if q := k * x.Span.Width() / c.Span.Width(); bothEnds(x.Stops) && bothEnds(c.Stops) && q > way {
		ask = "does the door make that, or are they of two actuators?"
		why = append(why, fmt.Sprintf("its travel is %.0f %% of the coupled one (%s and %s)", 100*q, amount(k*x.Span.Width(), c.Unit), amount(c.Span.Width(), c.Unit)))
	}
	p, q := x.pacePerVolt(), c.pacePerVolt()
	down, up := k*p[0]/q[0], k*p[1]/q[1] // NaN where there is no sweep
	if ownSlower := "no door speeds its actuator up both ways: are the two files swapped, or of two actuators?"; x.driveKnown() && c.driveKnown() {
		if math.Max(down, up) < 1/swappedPace {
			ask = ownSlower
			why = append(why, fmt.Sprintf("per volt of drive it runs at %.0f %% of the speed, both ways", 50*(down+up)))
			if x.slowed(3) { // a fault of its own may well come and go
				ask = "is that the fault that shows uncoupled, or are they of two actuators?"
			} else {
				evident = true
			}
		} else if math.Min(down, up) > pace || math.Max(down, up) < 1./pace {
			ask = "does the door make that, or are they of two actuators?"
			why = append(why, fmt.Sprintf("per volt of drive it runs %.1f times as fast", (down+up)/2))
		}
	} else if down, up, ok := unmeasuredPace(x, c); ok && k*math.Max(down, up) < 1/(swappedPace*supplyPace) {
		ask = ownSlower
		why = append(why, fmt.Sprintf("it runs at %.0f %% of the speed, both ways, which is more than a supply makes", 50*k*(down+up)))
		evident = !x.slowed(3)
	} else if ok && k*math.Min(down, up) > pace*supplyPace {
		ask = "does the door make that, or are they of two actuators?"
		why = append(why, fmt.Sprintf("it runs %.1f times as fast", k*(down+up)/2))
	}
	return why, ask, evident
}

// unmeasuredPace is how fast an uncoupled capture runs down and up as a share of the
// coupled one, where the volts of one drive or of both are not known but its sign is:
// each sign stands for the volts of a 12 V system.
func unmeasuredPace(x, c *Capture) (down, up float64, ok bool) {
	const usualVolts = 13 // between a battery at rest and one that is charged
	at := func(c *Capture) [2]float64 {
		p := c.pacePerVolt()
		if c.driveKnown() {
			p[0], p[1] = usualVolts*p[0], usualVolts*p[1]
		}
		return p
	}
	// A chopped drive shows in its volts, and not in a sign.
	if x.Clipped || c.Clipped || x.Pulsed || c.Pulsed || x.driveKnown() && c.driveKnown() {
		return 0, 0, false
	}
	p, q := at(x), at(c)
	return p[0] / q[0], p[1] / q[1], true // NaN where there is no sweep
}

// withoutOthers splits captures into those that are weighed and the uncoupled ones that
// are not: evidently of another actuator than a coupled one, by what no door changes
// (its sense, its sensor's supply, a stop short of where the coupled one goes, a travel
// plainly shorter or slower both ways with no fault of its own that slows it), or by both
// travel and speed at once.
func withoutOthers(captures []*Capture) (weighed, left []*Capture) {
	for _, x := range captures {
		other := false
		for _, c := range captures {
			if !x.Free || c.Free || other {
				continue
			}
			why, _, evident := unlikeCoupled(x, c)
			other = x.Sense*c.Sense < 0 || evident || len(why) > 1 || plainlyShorter(x, c) || pastFreeStop(x, c) != "" || outreads(x, c) != "" || outreads(c, x) != ""
		}
		if other {
			left = append(left, x)
		} else {
			weighed = append(weighed, x)
		}
	}
	return weighed, left
}

// plainlyShorter tells whether an uncoupled capture that was driven into both stops goes
// less far than a coupled one by a fifth and more: warmth, and stops that give, make
// less (common practice, no source). What stops the coupled one too at times is no end of
// another actuator's.
func plainlyShorter(x, c *Capture) bool {
	k, ok := levelScale(x, c)
	return ok && bothEnds(x.Stops) && blockedAlike(x, c) == nil && c.Span.Width() > 1.2*k*x.Span.Width()
}

// pastFreeStop says that a coupled capture reads past a stop of the uncoupled actuator, or "":
// these are the actuator's own, and no door takes it past them. Two captures of one track
// read the same place alike to [sureSupply] of the sensor's supply and [DriftLeast] of the
// travel. Where a fault makes the reading, or stops the uncoupled actuator, it tells nothing.
func pastFreeStop(x, c *Capture) string {
	k, ok := levelScale(x, c)
	if !ok || !x.lacksJam() || x.slowed(3) || x.endsUnsure() || c.endsUnsure() || !(c.Reference > 0) || c.Span.Width() <= 0 || blockedAlike(x, c) != nil {
		return ""
	}
	bound := sureSupply*c.Reference + DriftLeast*k*x.Span.Width()
	for _, s := range x.Stops {
		at := c.Span.To
		if s.Direction == Down {
			at = c.Span.From
		}
		if s.Extreme && float64(s.Direction)*(at-k*s.Level) > bound {
			return fmt.Sprintf("it stops at %s going %s, the coupled one reads %s", amount(k*s.Level, c.Unit), s.Direction, amount(at, c.Unit))
		}
	}
	return ""
}

// stopsEarly says that the coupled capture ends at a stop well inside the uncoupled one's where
// it did not come to both, or "": see [spansApart].
func stopsEarly(x, c *Capture) string {
	a, b := steadyOf(c), steadyOf(x)
	if log, said := spansApart(&a, &b); log > 0 && !(bothEnds(x.Stops) && bothEnds(c.Stops)) {
		return "coupled and uncoupled, " + said
	}
	return ""
}
