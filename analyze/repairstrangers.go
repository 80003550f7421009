package analyze

import (
	"cmp"
	"fmt"
	"math"
)

// pacePerVolt is the middle pace down and up, in V/s per volt of drive; NaN where there
// is none.
func (c *Capture) pacePerVolt() [2]float64 {
	p := c.paces()
	return [2]float64{p[0].rate / p[0].drive, p[1].rate / p[1].drive}
}

// strangers says why the captures before and after are hardly of one kind of
// actuator, or "": a speed that no drive, door and warmth make of the other's, where
// nothing that was wrong made it slow ([paceApart]), span and pace that no one fault
// makes ([otherActuator]), a reading that the other's sensor is not supplied with, or
// another unit where a travel was not seen from stop to stop.
func strangers(before, after []*Capture) string {
	for _, b := range before {
		for _, a := range after {
			if why := outreads(a, b) + outreads(b, a); why != "" {
				return why
			}
			// Of two travels from stop to stop the shares can be compared.
			if a.Unit != b.Unit && !(a.bothStops() && b.bothStops()) {
				return fmt.Sprintf("%s has the feedback in %s, %s in %s", b.Source, cmp.Or(b.Unit, "no unit"), a.Source, cmp.Or(a.Unit, "no unit"))
			}
		}
	}
	for _, b := range before {
		for _, a := range after {
			if b.Free != a.Free {
				continue
			}
			x, y := steadyOf(b), steadyOf(a)
			if why := otherActuator(&x, &y); why != "" {
				return fmt.Sprintf("%s and %s: %s", b.Source, a.Source, why)
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
