package analyze

import (
	"fmt"
	"math"
	"slices"
)

// shortTravel is a coupled travel that ends earlier than the uncoupled one, by more than
// gears give and by less than tells an obstacle from the door's own stops.
type shortTravel struct{ seen *Comparison } // nil where there is none

// shortUnjudged finds one, where comparing the captures did not judge it already.
func shortUnjudged(captures []*Capture, judged *Comparison) shortTravel {
	if judged != nil && judged.Short > 0 || longerThanFree(captures) != "" {
		return shortTravel{}
	}
	return shortTravel{shortByMore(captures, mostPlay)}
}

// atItsEnd is the share of the faults of doors that end its travel early without any
// other mark: something at the seat, a lever that was put on or bent wrong (chosen, not
// derived).
const atItsEnd = 0.25

// likeDoor is the chance that a faulty door looks like this over that of a sound one, 0
// where the travel is not short. A stop that comes early is all that such a fault shows:
// that nothing else was found is no news then.
func (s shortTravel) likeDoor() float64 {
	if s.seen == nil {
		return 0
	}
	return math.Min(1, atItsEnd*obstacleAnywhere/ownStopAt(s.seen.Short))
}

// spareSaid is the likeness to a faulty door from which a short travel is said as
// evidence: one to ten, as faint as evidence may be.
const spareSaid = 0.1

// argue says the short travel: against a conclusion that leaves it unexplained, where
// few sound doors leave so much, and else among what cannot be told.
func (s shortTravel) argue(v *Verdict) {
	switch like := s.likeDoor(); {
	case s.seen == nil || v.Conclusion == DoorMechanism:
	case like >= spareSaid && v.Conclusion == NoFault:
		v.Against = append(v.Against, Evidence{Finding: FreeRun, Text: s.seen.Text, Ratio: (1 - chanceToShow()[DoorMechanism]) / like,
			Because: "the stops of most doors lie less far inside those of their actuator, but of some they do: an object at the very end or a lever put on wrong would look the same. Compare with the good side, or look whether the door seals there"})
	default:
		v.Unknown = append(v.Unknown, fmt.Sprintf("uncoupled it runs %.0f %% of the travel further than coupled: that is usual for a door's own stops, but an object at the very end would look the same", 100*s.seen.Short))
	}
}

// pressedOn takes back that one polarity was driven only, where all of it presses to the
// stop that comes early and the uncoupled actuator is driven and runs both ways: a control
// that does not get there asks for it again and again, and both legs are alive.
func (r *Comparison) pressedOn(captures []*Capture) {
	ran := [2]bool{}
	for _, c := range captures {
		for i := range c.Moves {
			if m := &c.Moves[i]; c.Free && !c.shows(HalfDrive) && m.Direction != None && float64(m.Direction)*(m.End-m.Start) > freePlay*c.Span.Width() {
				ran[side(m.Direction)] = true
			}
		}
	}
	if !ran[0] || !ran[1] {
		return
	}
	for _, c := range captures {
		if away := func(m Move) bool { return m.Direction != r.early }; c.Free || slices.ContainsFunc(c.Moves, away) {
			continue
		}
		for i := range c.Findings {
			if f := &c.Findings[i]; f.Kind == HalfDrive {
				for k, x := range f.Weights {
					r.Weights[k] -= x
				}
			}
		}
	}
}
