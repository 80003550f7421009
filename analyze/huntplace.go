package analyze

import "math"

// likelyTravel is the travel, in V, as far as it is known: the span that was seen,
// and on a side on which no stop was, what such an actuator uses of its sensor's
// supply, where that is more. What hunts in one place has seen no more than that.
func (w *work) likelyTravel() Interval {
	out := w.span
	if out.Width() <= 0 || out.Width() >= 0.25*w.usualTravel() {
		return out
	}
	margin := (w.ref - w.usualTravel()) / 2
	usual := out.widen(margin).widen(w.ref - margin)
	for _, s := range w.stops {
		if s.Direction == Down && w.endsAt(s) {
			usual.From = out.From
		}
		if s.Direction == Up && w.endsAt(s) {
			usual.To = out.To
		}
	}
	return usual
}

// huntTravel is the travel, in V, that hunting is measured on: where no stop was seen, at
// least what a short one among such actuators has.
func (w *work) huntTravel() float64 {
	s := w.likelyTravel().Width()
	if s > 0 && len(w.stops) == 0 {
		s = math.Max(s, 0.75*w.usualTravel())
	}
	return s
}

// transit is the time, in s, for the likely travel in the slower direction; 0 where
// no rate is known.
func (w *work) transit() float64 {
	slow := math.Inf(1)
	for _, r := range w.rate {
		if r > 0 {
			slow = math.Min(slow, r)
		}
	}
	return w.likelyTravel().Width() / slow
}

// longestSweep is the time, s, that the slowest actuators take from stop to stop at 12 V
// (common practice, no source).
const longestSweep = 30.0

// travelByPace is the longest travel, V, that a sound actuator can have which moves its
// reading as fast as this one does; infinite where no rate is known. At fewer volts it is
// slower, in proportion at most.
func (w *work) travelByPace() float64 {
	fast := math.Max(w.rate[0], w.rate[1])
	if !(fast > 0) {
		return math.Inf(1)
	}
	if !w.tr.DriveIsPolarity && w.d.amp > 5 && w.d.amp < 12 {
		fast *= 12 / w.d.amp
	}
	return longestSweep * fast
}

// huntPlace says where on the span the hunting sits.
func (w *work) huntPlace(f Finding) string {
	s := w.likelyTravel()
	if s.Width() <= 0 {
		return huntUnknown
	}
	// The shaft is at an end when the turning points reach into the outer
	// fifth: controllers aim a few percent short of a stop.
	switch mid := (f.Volts.Mid() - s.From) / s.Width(); {
	case mid > 0.8 || f.Volts.To > s.To-0.05*s.Width() && mid > 0.6:
		switch {
		case s.To > w.span.To:
			return nearUsual + "high end"
		case !w.endsNear(Up):
			return huntMidTravel
		}
		return huntHighEnd
	case mid < 0.2 || f.Volts.From < s.From+0.05*s.Width() && mid < 0.4:
		switch {
		case s.From < w.span.From:
			return nearUsual + "low end"
		case !w.endsNear(Down):
			return huntMidTravel
		}
		return huntLowEnd
	}
	return huntMidTravel
}

// endsNear tells whether the span that was seen may end where the travel does: at a stop,
// or no further inside the sensor's supply than a third of it.
func (w *work) endsNear(dir Direction) bool {
	for _, s := range w.stops {
		if s.Direction == dir && w.endsAt(s) {
			return true
		}
	}
	if dir == Up {
		return w.span.To > w.ref*2/3
	}
	return w.span.From < w.ref/3
}

// endsAt tells whether the travel ends at a stop. One stand too short for a motor that was
// driven into a stop, with the shaft clear of it at other times on the far side, is a
// drive that was turned down.
func (w *work) endsAt(s Stop) bool {
	const pressed = 0.5 // s (chosen, not derived)
	beyond := w.span.To - s.Level
	if s.Direction == Down {
		beyond = s.Level - w.span.From
	}
	return s.Extreme && (s.Stalls >= 2 || s.Seconds >= pressed || beyond <= 2*w.tol)
}
