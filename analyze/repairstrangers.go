package analyze

import (
	"cmp"
	"fmt"
	"math"
)

// differentPace is how many times as fast one actuator is as another of its kind
// at most, in volts of feedback per second and volt of drive: door, warmth and
// supply make no more than a factor of two of it (see loadline.go).
const differentPace = 2.2

// pacePerVolt is the middle pace of the sweeps down and up, in V/s per volt of
// drive; NaN where there is none.
func (c *Capture) pacePerVolt() [2]float64 {
	var by [2][]float64
	for _, s := range c.Sweeps {
		if s.Rate > 0 && s.DriveMean > 0 {
			by[side(s.Direction)] = append(by[side(s.Direction)], s.Rate/s.DriveMean)
		}
	}
	return [2]float64{medianOf(by[0]), medianOf(by[1])}
}

// strangers says why the captures before and after are hardly of one kind of
// actuator, or "": a speed that is more than twice or less than half of the other
// both ways, where nothing that was wrong made it slow, a reading that the other's
// sensor is not supplied with, or another unit. A new actuator of the kind
// is as fast as the old one was, to a few tenths.
func strangers(before, after []*Capture) string {
	for _, b := range before {
		for _, a := range after {
			if why := outreads(a, b) + outreads(b, a); why != "" {
				return why
			}
			if a.Unit != b.Unit {
				return fmt.Sprintf("%s has the feedback in %s, %s in %s", b.Source, cmp.Or(b.Unit, "no unit"), a.Source, cmp.Or(a.Unit, "no unit"))
			}
		}
	}
	for _, b := range before {
		if b.slowed(2) {
			return ""
		}
		for _, a := range after {
			if why := paceApart(b, a); why != "" {
				return why
			}
		}
	}
	return ""
}

// slowed tells whether a capture shows, at that many to one and more, what makes an
// actuator slow or uneven.
func (c *Capture) slowed(odds float64) bool {
	for i := range c.Findings {
		switch f := &c.Findings[i]; f.Kind {
		case WeakDrive, HeavyDrag, FeedResists, Heating, StickSlip, SlowZone, GearTurn, GearSlip, Pauses, SupplySag, LoadLost:
			if f.force() > math.Log(odds) {
				return true
			}
		}
	}
	return false
}

// paceApart says of two captures of one coupling that one runs more than [differentPace]
// times as fast as the other, both ways, or "".
func paceApart(b, a *Capture) string {
	if a.Free != b.Free || b.shows(RefLoss) || b.shows(AtRail) {
		return "" // what is read is not the shaft's travel
	}
	if a.driveKnown() != b.driveKnown() {
		return "" // a speed for a volt of drive is not one for a polarity
	}
	k, ok := levelScale(b, a)
	if !ok {
		return ""
	}
	x, y := b.pacePerVolt(), a.pacePerVolt()
	down, up := y[0]/(k*x[0]), y[1]/(k*x[1]) // NaN where there is no sweep
	if math.Min(down, up) > differentPace || math.Max(down, up) < 1/differentPace {
		return fmt.Sprintf("%s runs %.1f times as fast as %s", a.Source, (down+up)/2, b.Source)
	}
	return ""
}

// otherSense says why the captures before and after are not driven alike, or "": no
// repair turns an actuator round, another one does, and so do leads logged the other way.
func otherSense(before, after []*Capture) string {
	says := func(c *Capture) string {
		if c.Sense > 0 {
			return "raises"
		}
		return "lowers"
	}
	for _, b := range before {
		for _, a := range after {
			if a.Sense*b.Sense < 0 {
				return fmt.Sprintf("positive drive %s the reading in %s and %s it in %s: another actuator, or the leads were logged the other way round", says(b), b.Source, says(a), a.Source)
			}
		}
	}
	return ""
}
