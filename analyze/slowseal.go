package analyze

import "math"

// intoStop tells whether a band lies on the last of the way into a stop.
func (s *slowSearch) intoStop(b slowBand) bool {
	span, end := s.span.Width(), 2*s.lim.EndZone*s.span.Width()
	if s.p.Direction == Down {
		return b.volts.From < s.span.From+end && b.volts.To < s.span.From+0.2*span
	}
	return b.volts.To > s.span.To-end && b.volts.From > s.span.To-0.2*span
}

// outOfStop tells whether a band lies on the first of the way out of a stop,
// where the seals still drag and the motor gets up to speed.
func (s *slowSearch) outOfStop(b slowBand) bool {
	span, end := s.span.Width(), 2*s.lim.EndZone*s.span.Width()
	if s.p.Direction == Down {
		return b.volts.To > s.span.To-end && b.volts.From > s.span.To-0.15*span
	}
	return b.volts.From < s.span.From+end && b.volts.To < s.span.From+0.15*span
}

// sealed tells whether a band is no more than the stops of a healthy door make.
// Seals and padded stops slow it over the last of its way: some millimetres of
// foam on a flap of a hand's width that turns by a right angle or less are a
// twelfth of the travel at most, and a motor that is to press them home has half
// of its torque left (common practice, no source).
func (s *slowSearch) sealed(b slowBand) bool {
	if !s.intoStop(b) {
		return s.outOfStop(b) && b.factor > 0.4
	}
	depth := s.span.To - b.volts.From
	if s.p.Direction == Down {
		depth = b.volts.To - s.span.From
	}
	// A line through the last rows before the stop mixes the stand there in, as far
	// as the shaft goes in half of them, and the stand itself scatters.
	if depth < s.visible()+0.5*float64(s.window)*s.tr.Step*s.nominal {
		return true
	}
	deep := depth > sealDepth*math.Max(s.span.Width(), s.usualTravel())
	if !deep && s.softAlike(b) {
		return true
	}
	return b.factor > 0.15 && !(b.factor < 0.55 || deep && b.factor < 0.6) || s.outOfStop(b) && b.factor > 0.4
}

// softAlike tells whether the other stop, as far from it, takes half or more of what the
// band takes before this one. A soft stop takes the speed away little by little until
// nothing is left; where both do, the travel is built so, of one foam or by the give of one
// case, while a seal that swelled or an object lies before one stop.
func (s *slowSearch) softAlike(b slowBand) bool {
	back := s.prof[1-side(s.p.Direction)]
	if !s.bothEnds() {
		return false
	}
	there := Interval{s.span.From + s.span.To - b.volts.To, s.span.From + s.span.To - b.volts.From}
	return s.relativeRate(back, there) < 1-0.5*(1-b.factor) // NaN where nothing passed
}

// sealDepth is the share of a usual travel over which the seals of a healthy
// door give at most.
const sealDepth = 1.0 / 12

// usualTravel is the travel, in V, of an actuator that uses most of its sensor's
// supply: a door of short travel has seals as thick.
func (w *work) usualTravel() float64 { return usualShare * w.ref }

// usualShare is the share of its supply that such a sensor uses.
const usualShare = 0.8
