package analyze

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// stoppedShort is an actuator that stalls in one capture at a level which it goes past, the
// same way, in another.
type stoppedShort struct {
	c, x  *Capture // that stalls, and that goes past
	stop  Stop
	past  float64 // how far it goes in x, in the unit of c
	least float64 // what play, stops and instruments make of it at the most, V
	whole float64 // the way seen in both, in the unit of c
	same  bool    // both readings are shares of a supply that was logged
}

// gap is how far short of the other capture's way it stalls, V.
func (s *stoppedShort) gap() float64 { return math.Abs(s.past - s.stop.Level) }

// shortOf tells whether, and how far beyond it the most, capture x goes past a stop of c.
// What play, stops that give, and instruments and supplies that differ make lies below
// that.
func shortOf(c, x *Capture) *stoppedShort {
	k, ok := levelScale(x, c)
	same := c.refLogged && x.refLogged && c.Unit == x.Unit && x.Reference > 0
	if same {
		k = c.Reference / x.Reference
	}
	if !ok || !(c.Span.Width() > 0) || !(x.Span.Width() > 0) || c.Sense*x.Sense <= 0 || c.endsUnsure() || x.endsUnsure() || !c.asMuchDrive(x) {
		return nil
	}
	went := x.went()
	way := Interval{k * went.From, k * went.To}
	whole := way.widen(c.Span.From).widen(c.Span.To).Width()
	var worst *stoppedShort
	for _, s := range c.Stops {
		if !c.getsNoFurther(s, mostPlay*whole) || s.Stalls < leastInVain || s.Seconds < 1 {
			continue
		}
		past, least := way.To, freePlay*whole
		if s.Direction == Down {
			past = way.From
		}
		if !same {
			least += sureSupply * math.Max(math.Abs(past), math.Abs(s.Level))
		}
		if gap := float64(s.Direction) * (past - s.Level); gap > least && x.passes(s.Direction, s.Level/k, mostPlay*whole/k) && (worst == nil || gap > worst.gap()) {
			worst = &stoppedShort{c, x, s, past, least, whole, same}
		}
	}
	return worst
}

// passes tells whether a drive in a direction went from before a level to clear beyond it.
func (c *Capture) passes(dir Direction, level, clear float64) bool {
	for i := range c.Moves {
		m := &c.Moves[i]
		if m.Direction == dir && float64(dir)*(level-m.Start) > 0 && float64(dir)*(m.End-level) > clear {
			return true
		}
	}
	return false
}

// stallShort looks for a stall in one capture at a level that another one goes past. Where
// one is dated later than the other and goes past, it is over. What a single capture
// shows by itself is left to it. Whether the travel is shorter or the sensor's scale, the
// pace of the reading weighs: a scale takes it along. The captures are in order.
func (s *Series) stallShort(captures []*Capture) {
	var worst *stoppedShort
	for i, c := range captures {
		if c.Free || c.Pulsed || c.finds() {
			continue
		}
		for j, x := range captures {
			if x.Free || i == j {
				continue
			}
			if short := shortOf(c, x); short != nil && s.Order == "by start time" && j > i {
				worst = nil // what an earlier one shows is over as well
				break
			} else if short != nil && (worst == nil || short.gap()/short.whole > worst.gap()/worst.whole) {
				worst = short
			}
		}
	}
	if worst == nil {
		return
	}
	c, stop := worst.c, worst.stop
	text := fmt.Sprintf("In %s it stalls at %s going %s, %s, and gets no further; in %s it went on to %s.",
		c.Source, amount(stop.Level, c.Unit), stop.Direction, timesText(stop.Stalls), worst.x.Source, amount(worst.past, c.Unit))
	travel, because := worst.held()
	p := mixed(worst.travelOverScale(), travel, worst.scale())
	p[NoFault] = math.Max(p[NoFault], otherwiseLogged)
	z := 2 * worst.gap() / worst.least // the limit is two deviations
	strength := 1 - distuv.UnitNormal.Survival(z)/distuv.UnitNormal.Survival(2)
	s.asides = append(s.asides, newAside(Jam, p, strength, text, because))
	s.Text += " " + text
}

// finds tells whether a capture shows something by itself that no sound actuator does.
func (c *Capture) finds() bool {
	for i := range c.Findings {
		if c.Findings[i].force() > math.Log(3) {
			return true
		}
	}
	return false
}

// held is what bears on each fault of a shaft that stalls short of where it went. What lies
// in its way lets it go the other way; one that was not driven back, and did not slow down
// before, may be a motor or its feed that gave up there.
func (s *stoppedShort) held() (shown, string) {
	back, slowed := false, false
	pace := math.NaN() // of what did not end there
	if before := s.c.voltTimes(s.stop.Direction, s.endsThere); len(before) > 0 {
		pace = 1 / medianTime(before)
	}
	for i := range s.c.Moves {
		m := &s.c.Moves[i]
		from := float64(s.stop.Direction) * (s.stop.Level - m.Start)
		to := float64(s.stop.Direction) * (s.stop.Level - m.End)
		switch play := mostPlay * s.whole; {
		case m.Direction == -s.stop.Direction && math.Abs(from) < play && to > play:
			back = true
		// The load grows where the pace falls by a third over the last of the way, at the same
		// volts; a good door's takes a fifth (chosen, not derived).
		case s.endsThere(m) && m.Moving > 0.5 && m.Rate > 0 && s.c.driveKnown():
			slowed = slowed || m.Rate < 2./3*pace
		}
	}
	switch {
	case back:
		return shown{.006, .03, .03, .3, .01}, "it stalls where it went on at another time, and runs back freely: something lies in its way there now"
	case slowed:
		return shown{.006, .01, .04, .3, .01}, "it slows down, stalls where it went on at another time, and gets no further: the door binds there now, or something lies in its way; a motor or a feed that gives up stops at once"
	}
	return shown{.006, .01, .1, .2, .05}, "it stalls where it went on at another time, and gets no further: something lies in its way there now, or the motor or its feed gave up there; drive it back to tell"
}

// travelOverScale is how much likelier the travel is shorter than the sensor's scale, by
// the pace of the reading at the same drive, as a logarithm; 0 where it does not tell. A
// scale that was so much smaller as to read the end of the way where the shaft stalls takes
// the pace along, both ways. What stops the shaft may slow it before: where nothing else was
// driven, the pace there speaks for the travel only.
func (s *stoppedShort) travelOverScale() float64 {
	ratio := 1 - s.gap()/s.whole
	weigh := func(d Direction, leaveOut func(*Move) bool) (float64, bool) {
		speed, band, ok := s.speed(d, leaveOut)
		if !ok || !(ratio > 0) {
			return 0, false
		}
		return travelOverScale(ratio/speed, ratio, band), true
	}
	for _, d := range []Direction{s.stop.Direction, -s.stop.Direction} {
		if l, ok := weigh(d, s.endsThere); ok {
			return l
		}
	}
	l, _ := weigh(s.stop.Direction, func(*Move) bool { return false })
	return math.Max(0, l)
}

// speed is the pace of the reading in the capture that stalls over that in the other, in a
// direction, at the same drive, and where good ones lie.
func (s *stoppedShort) speed(d Direction, leaveOut func(*Move) bool) (speed float64, band Interval, ok bool) {
	was, is := s.x.voltTimes(d, func(*Move) bool { return false }), s.c.voltTimes(d, leaveOut)
	if len(was) == 0 || len(is) == 0 {
		return 0, band, false
	}
	speed, band = speedRatio(s.x, s.c, was, is)
	if k, known := levelScale(s.x, s.c); known && !s.same {
		speed /= k
	} else if s.same {
		speed *= s.x.Reference / s.c.Reference
	}
	return speed, band, speed > 0 && !math.IsInf(band.To, 0)
}

// endsThere tells whether a move comes to the stall.
func (s *stoppedShort) endsThere(m *Move) bool {
	return m.Direction == s.stop.Direction && m.Stalled > 0 && math.Abs(m.End-s.stop.Level) < mostPlay*s.whole
}

// voltTimes are the times, in s, that the way of 1 V takes in a direction, by the moves that
// tell the pace (see pace), but those to leave out.
func (c *Capture) voltTimes(d Direction, leaveOut func(*Move) bool) (out []fullSweep) {
	for k := range c.Moves {
		if m := &c.Moves[k]; m.Direction == d && c.tellsPace(m) && !leaveOut(m) {
			out = append(out, fullSweep{1 / m.Rate, math.Abs(m.DriveMean)})
		}
	}
	return out
}

func medianTime(list []fullSweep) float64 {
	var t []float64
	for _, x := range list {
		t = append(t, x.time)
	}
	return medianOf(t)
}

// scale is what bears on each fault of a sensor's scale that shrank so.
func (s *stoppedShort) scale() shown {
	f := Finding{Kind: SpanDrift, Seen: 2, Passes: 2, span: s.whole}
	d := side(s.stop.Direction)
	var moved [2]bool
	var by, was [2]float64
	moved[d], by[d], was[d] = true, s.stop.Level-s.past, s.past
	was[1-d] = s.past - float64(s.stop.Direction)*s.whole
	f.Form = driftForm(by, moved, was, s.c.Reference, s.same)
	p, _ := spanDriftLikelihood(&f)
	return p
}
