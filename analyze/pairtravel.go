package analyze

import (
	"fmt"
	"math"
)

// travelTimes gives the slowest coupled and the slowest uncoupled one.
func travelTimes(captures []*Capture) (coupled, free travelTime) {
	for _, c := range captures {
		p := &coupled
		if c.Free {
			p = &free
		}
		if c.travel.at12 > p.at12 {
			*p = c.travel
		}
	}
	return coupled, free
}

// slowUncoupled weighs the slowness of an actuator on its door by its travel time
// off it. Whether weak or of a slow make, it is slow there as well; a door
// that drags leaves a good actuator, and a good door leaves its motor half of
// its speed (common practice, no source). known is false where the uncoupled
// capture moves too little to tell.
func slowUncoupled(captures []*Capture, own []float64) (still, known bool) {
	coupled, free := travelTimes(captures)
	if free.at12 == 0 {
		return false, false
	}
	own[DoorMechanism] += math.Max(-3, math.Min(math.Log(free.asSlow), 2))
	if coupled.at12 > 2*free.at12 {
		own[NoFault] += math.Log(0.1)
	}
	return free.asSlow < 1, true
}

// longerThanFree says that a coupled capture goes further than an uncoupled one
// that was driven into both of its stops, or "": no door lengthens the way of its
// actuator, so they are hardly of one. Nor are they where one reads what the
// other's sensor is not supplied with.
func longerThanFree(captures []*Capture) string {
	for _, x := range captures {
		for _, c := range captures {
			if why := outreads(x, c); c.Free != x.Free && why != "" {
				return why + ": are they of one actuator? They were not compared"
			}
		}
	}
	for _, x := range captures {
		if !x.Free || !bothEnds(x.Stops) {
			continue
		}
		for _, c := range captures {
			k, ok := levelScale(x, c)
			if c.Free || !ok || blockedAlike(x, c) != nil {
				continue
			}
			if free := k * x.Span.Width(); c.Span.Width() > 1.05*free+4*c.Noise+2*c.Quantum {
				return fmt.Sprintf("coupled it goes over %.2f %s, uncoupled from stop to stop only over %.2f: are %s and %s of one actuator, or swapped? They were not compared", c.Span.Width(), c.Unit, free, c.Source, x.Source)
			}
		}
	}
	return ""
}

// outreads says that one capture reads what the sensor of another is not supplied
// with, or "". What reads above its own supply has a fault, and so has a supply that
// is lost or low: neither tells anything here.
func outreads(x, c *Capture) string {
	if x.shareKnown && x.Span.To > aboveMeasured*x.Reference || x.shows(RefLoss) || c.shows(RefLoss) {
		return ""
	}
	if c.Unit != x.Unit || !c.shareKnown || !(x.Span.To > aboveMeasured*c.Reference) {
		return ""
	}
	return fmt.Sprintf("%s reads up to %.2f %s, and the sensor of %s is supplied with %.2f", x.Source, x.Span.To, x.Unit, c.Source, c.Reference)
}

// freePlay is the share of the travel that an uncoupled actuator may run
// further than its door lets it, by linkage and stops that give.
const freePlay = 1.0 / 12

// shortOfFree compares the travel: an actuator that stalls coupled where it
// runs on uncoupled is stopped by what hangs on it, an obstacle or the door's
// own stops. It returns nil where the difference is none to speak of.
func shortOfFree(captures []*Capture) *Comparison { return shortByMore(captures, freePlay) }

// shortByMore is [shortOfFree] from a share of the travel on.
func shortByMore(captures []*Capture, least float64) *Comparison {
	worst, at, beyond, share, dir, unit := 0.0, 0.0, 0.0, 0.0, None, ""
	for _, c := range captures {
		if c.Free || c.Span.Width() <= 0 {
			continue
		}
		var free Interval // the widest, in the unit of c
		for _, x := range captures {
			if k, ok := levelScale(x, c); ok && x.Free && k*x.Span.Width() > free.Width() {
				free = Interval{k * x.Span.From, k * x.Span.To}
			}
		}
		if free.Width() <= 0 {
			continue
		}
		// Where the uncoupled capture shows but a part of the way, the way is what both
		// show together.
		whole := free.widen(c.Span.From).widen(c.Span.To).Width()
		for _, s := range c.Stops {
			if !c.getsNoFurther(s, mostPlay*whole) {
				continue
			}
			gap, end := free.To-s.Level, free.To
			if s.Direction == Down {
				gap, end = s.Level-free.From, free.From
			}
			if q := gap / whole; q > worst {
				worst, at, beyond, dir, unit = q, s.Level, end, s.Direction, c.Unit
				share = (s.Level - free.From) / math.Max(free.Width(), c.Span.Width())
			}
		}
	}
	if worst < least {
		return nil
	}
	r := &Comparison{Short: worst, early: dir, Gone: []Kind{Jam}, Stays: []Kind{}, Weights: make([]float64, faultCount)}
	r.Text = fmt.Sprintf("Coupled it stalls at %s going %s, at %.0f %% of the uncoupled travel; uncoupled it runs on to %s: what hangs on it stops it %.0f %% of the travel early.", amount(at, unit), dir, 100*share, amount(beyond, unit), 100*worst)
	obstacle := obstacleOver(worst)
	for i := range r.Weights {
		p := 0.9 / obstacle
		switch Fault(i) {
		case DoorMechanism:
			p = 0.9
		case Motor: // a weak one may not press a seal home
			p = math.Max(p, 0.08)
		}
		r.Weights[i] = math.Log(p)
	}
	return r
}

// getsNoFurther tells whether a stop is as far as a capture gets in its direction. What it passes
// at other times, by pulses or slowly, is no stop. Where it lay beyond before it was
// driven that way at all, something has come in between: that holds it twice at least.
func (c *Capture) getsNoFurther(s Stop, play float64) bool {
	past := func(lo, hi float64) bool {
		return s.Direction == Up && hi > s.Level+play || s.Direction == Down && lo < s.Level-play
	}
	if went := c.went(); s.Extreme && !past(went.From, went.To) {
		return true
	}
	for i := range c.Moves {
		m := &c.Moves[i]
		if m.Direction == s.Direction && past(math.Min(m.Start, m.End), math.Max(m.Start, m.End)) {
			return false
		}
	}
	return s.Stalls >= 2 && s.Seconds >= 1 && !c.Pulsed
}

// went is what the moves of a capture went over, in Capture.Unit.
func (c *Capture) went() Interval {
	out := noInterval()
	for i := range c.Moves {
		out = out.widen(c.Moves[i].Start).widen(c.Moves[i].End)
	}
	return out
}

// obstacleOver is how many times likelier an obstacle is than a healthy door to
// stop the actuator the given share of its free travel early; at least 1.
//
// An obstacle may lie anywhere on the travel. The stops of a healthy door lie
// inside those of its actuator, or the door would not press its seals: by 4 %
// of the travel on the average, seldom by much more, and in one of twenty cases
// anywhere, for a door that needs but a part of its actuator's travel (common
// practice, no source).
func obstacleOver(short float64) float64 {
	return math.Max(1, obstacleAnywhere/ownStopAt(short))
}

// obstacleAnywhere is how densely obstacles lie along the travel, per whole travel: the
// last fifth is the seals'.
const obstacleAnywhere = 0.8

// ownStopAt is how densely the stops of healthy doors lie at the given share of the free
// travel inside their actuator's, per whole travel.
func ownStopAt(short float64) float64 {
	const mean, strange = 0.04, 0.05
	return (1-strange)/mean*math.Exp(-short/mean) + strange
}

// newsOfObstacle is the ratio from which a stop that comes early is evidence
// and not the door's own.
const newsOfObstacle = 3
