package analyze

import (
	"math"
	"slices"
	"strings"
)

// heldByDoor compares a coupled capture in which drives move nothing with an uncoupled
// one that runs over most of the travel at no more volts: feed, motor and sensor do
// their work then, and what held the shaft stayed behind with the door. A motor too weak
// to start a sound door would have to lose nearly all of its torque, and a plug may have
// been pushed home meanwhile; neither is likely. nil where it is not so.
func heldByDoor(captures []*Capture) *Comparison {
	var r *Comparison
	surest := 0.0 // of the sights of it, whichever comes first
	for _, c := range captures {
		f := c.heldStill()
		if c.Free || f == nil || f.Strength <= surest {
			continue
		}
		for _, x := range captures {
			if !x.Free || x.seen < 0.5 || x.Sense == 0 || x.shows(NoMotion) || !c.asMuchDrive(x) || !c.couldMove(x) {
				continue
			}
			surest = f.Strength
			r = &Comparison{Gone: []Kind{NoMotion}, Stays: []Kind{}, Weights: make([]float64, faultCount),
				Text: "Coupled nothing moves; uncoupled from the door, the same drive runs it over its travel."}
			for k, p := range (shown{.002, .03, .07, 1, .05}) {
				r.Weights[k] = math.Log(p)
			}
			// One weak sight of it is no proof by itself.
			for k, p := range f.Weights {
				r.Weights[k] -= p * (1 - f.Strength)
			}
			break
		}
	}
	return r
}

// heldStill is the finding of drives that moved nothing where the motor was fed, was not
// seen to turn, and the reading was a position; nil without one.
func (c *Capture) heldStill() *Finding {
	i := slices.IndexFunc(c.Findings, func(f Finding) bool {
		if f.Kind != NoMotion || f.Strength < 0.4 || f.Form == readsNoise || f.Form == noSupply || f.Form == feebleDrive {
			return false
		}
		return !strings.HasPrefix(f.Form, noCurrentFlows) && !strings.HasPrefix(f.Form, turningCurrent)
	})
	if i < 0 {
		return nil
	}
	return &c.Findings[i]
}

// asMuchDrive tells whether a capture was driven with at least four fifths of the volts
// of another, where both are known.
func (c *Capture) asMuchDrive(x *Capture) bool {
	if !c.Drivable || !x.Drivable {
		return true
	}
	most := func(l Levels) float64 { return math.Max(l.High-l.Rest, l.Rest-l.Low) }
	return most(c.Levels) > 0.8*most(x.Levels)
}

// couldMove tells whether the drives of a capture that moved nothing had somewhere to go:
// both ways, or off a place that is no stop of the uncoupled actuator that way.
func (c *Capture) couldMove(x *Capture) bool {
	k, ok := levelScale(c, x)
	if !ok {
		return false
	}
	var by [2]bool
	for i := range c.Moves {
		m := &c.Moves[i]
		dir := Direction(int(m.Polarity) * x.Sense)
		left := x.Span.To - k*m.Start
		if dir == Down {
			left = k*m.Start - x.Span.From
		}
		if dir != None && left > 0.1*x.Span.Width() {
			by[side(dir)] = true
		}
	}
	return by[0] || by[1]
}
