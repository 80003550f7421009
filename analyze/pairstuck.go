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
		held := c.heldStill()
		if c.Free || held != nil && held.Strength <= surest {
			continue
		}
		for _, x := range captures {
			if !x.Free || x.seen < 0.5 || x.Sense == 0 || x.shows(NoMotion) || !c.asMuchDrive(x) || !c.couldMove(x) {
				continue
			}
			f := held
			if f == nil {
				if f = c.onlyYields(x); f == nil {
					continue
				}
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

// onlyYields is what heldStill finds, of a shaft that gives way a little and springs back:
// all that the reading went is a tenth of what each of two drives at least would have run
// uncoupled in its time. Nil where it is not so, or another finding tells what they met.
func (c *Capture) onlyYields(x *Capture) *Finding {
	k, ok := levelScale(c, x)
	if !ok || slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.force() > math.Log(3) }) {
		return nil
	}
	vain := 0
	for i := range c.Moves {
		m := &c.Moves[i]
		dir := Direction(int(m.Polarity) * x.Sense)
		pace, n := x.pace(dir)
		if dir == None || n == 0 {
			continue
		}
		if could := math.Min(pace*m.Duration(), x.wayLeft(k*m.Start, dir)); could > 10*k*c.Span.Width() && could > 0.1*x.Span.Width() {
			vain++
		}
	}
	if vain < 2 {
		return nil
	}
	return &Finding{Kind: NoMotion, Strength: 1, Weights: make([]float64, faultCount)}
}

// wayLeft is how far it is from a level to the end of the travel seen.
func (c *Capture) wayLeft(from float64, dir Direction) float64 {
	if dir == Down {
		return from - c.Span.From
	}
	return c.Span.To - from
}

// heldStill is the finding of drives that moved nothing where the motor was fed, was not
// seen to turn, and the reading was a position; nil without one.
func (c *Capture) heldStill() *Finding {
	i := slices.IndexFunc(c.Findings, func(f Finding) bool {
		if f.Kind != NoMotion || f.Strength < 0.4 || f.Form == readsNoise || f.Form == noSupply || f.Form == feebleDrive || f.Form == currentOneWay {
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
		if dir != None && x.wayLeft(k*m.Start, dir) > 0.1*x.Span.Width() {
			by[side(dir)] = true
		}
	}
	return by[0] || by[1]
}
