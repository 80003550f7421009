package analyze

import (
	"fmt"
	"math"
)

// sameBlock is an obstacle that an actuator meets coupled and uncoupled: coupled it stalls
// there short of where it goes at other times, uncoupled it gets no further.
type sameBlock struct {
	coupled, free *Capture
	jam           *Finding
	level         float64 // of the uncoupled stop, in the unit of the coupled capture
	chance        float64 // that an end that has nothing to do with the stall lies as near to it, 0..1
}

// blockedAlike finds the place at which an uncoupled capture ends and its coupled one stalls,
// and passes at other times; nil without one. Such a capture looks like one of an actuator with
// a shorter travel, whose stop would lie anywhere on the travel: as near to the stall by
// chance in as large a share of cases as the stretch takes of the travel that both stands may
// lie apart by. How near that is follows from what the two stands scatter and are read to.
func blockedAlike(x, c *Capture) *sameBlock {
	const byChance = 0.05 // the usual limit of a test
	k, ok := levelScale(x, c)
	if !ok || !x.Free || c.Free || !(c.Span.Width() > 0) || x.Sense*c.Sense < 0 {
		return nil
	}
	for i := range c.Findings {
		f := &c.Findings[i]
		level, known := f.Measure(MeasureLevel)
		if f.Kind != Jam || !known || f.Seen == 0 || f.force() <= math.Log(3) {
			continue
		}
		for _, s := range x.Stops {
			at := k * s.Level
			apart := math.Abs(at-level) + k*s.Spread/2 + f.Volts.Width()/2 + c.Noise + k*x.Noise + (c.Quantum+k*x.Quantum)/2
			chance := 2 * apart / c.Span.Width()
			passed := c.Span.To - level
			if f.Direction == Down {
				passed = level - c.Span.From
			}
			if s.Extreme && s.Direction == f.Direction && chance < byChance && passed > 2*apart && passed > DriftLeast*c.Span.Width() {
				return &sameBlock{c, x, f, at, chance}
			}
		}
	}
	return nil
}

// blockedUncoupled compares captures of an actuator that is stopped at one place with the door
// and without: no door hangs on it there, and a shaft that gives in to nothing but the other
// drive was held, by the gears or by what got between them. nil where there is none.
func blockedUncoupled(captures []*Capture) *Comparison {
	var b *sameBlock
	for _, x := range captures {
		for _, c := range captures {
			if s := blockedAlike(x, c); s != nil && (b == nil || s.chance < b.chance) {
				b = s
			}
		}
	}
	if b == nil {
		return nil
	}
	_, same := freeOutcomes()
	r := &Comparison{Gone: []Kind{}, Stays: []Kind{Jam}, Weights: make([]float64, faultCount),
		Text: fmt.Sprintf("Uncoupled from the door, it ends going %s at %s, where coupled it stalls and goes further at other times: what stops it there is in the actuator.", b.jam.Direction, amount(b.level, b.coupled.Unit))}
	for i, p := range same.p {
		switch Fault(i) {
		case DoorMechanism: // a body in the way of the door, and an end of the actuator's there by chance
			p = math.Min(p, b.chance)
		case FeedbackSensor: // a reading that stands while the shaft goes on is not left at once
			p = same.p[Motor] / 2
		}
		r.Weights[i] = math.Log(p)
	}
	return r
}
