package analyze

import (
	"fmt"
	"math"
	"strings"
)

// sameSpeed is the share of the uncoupled speed from which a way counts as fast as
// without the door, see freedPlace: tracks, gears and the pulse of a supply make it differ
// by a tenth.
const sameSpeed = freedPlace

// wayPaces are the usual speeds of one direction with the door and without, at the same
// drive where its volts are known, in the unit of the coupled readings a second.
type wayPaces struct {
	with, without float64
	moves         int     // the fewest of either
	volts         float64 // of the coupled drive; 0 unknown
}

// keeps is the share of the uncoupled speed that the door leaves at 12 V, where the volts
// are known, else at whatever they were.
func (p *wayPaces) keeps() float64 {
	if p.volts == 0 {
		return p.with / p.without
	}
	return 1 / slowerAt12(p.without/p.with, p.volts)
}

// pacesBothWays gives them for down and up; false where a way was not driven long enough
// in both, or where the drive of either is pulsed. Of several captures the last two count;
// known tells whether the volts of both were logged.
func pacesBothWays(captures []*Capture) (ways [2]wayPaces, unit string, known, ok bool) {
	for _, c := range captures {
		for _, x := range captures {
			if c.Free || !x.Free {
				continue
			}
			k, one := levelScale(x, c)
			if !one || c.Pulsed || x.Pulsed {
				return ways, "", false, false
			}
			volts := 0.0
			if va, vb := c.fullDrive(), x.fullDrive(); c.driveKnown() && x.driveKnown() && va > 2*startVolts && vb > 2*startVolts {
				known, volts = true, va
				k *= (va - startVolts) / (vb - startVolts)
			}
			for i, d := range []Direction{Down, Up} {
				a, na := c.pace(d)
				b, nb := x.pace(d)
				if na < 1 || nb < 1 {
					return ways, "", false, false
				}
				ways[i] = wayPaces{a, k * b, min(na, nb), volts}
			}
			unit, ok = c.Unit, true
		}
	}
	return ways, unit, known, ok
}

// doorLoad says how much slower the door makes each way, where it makes one slower by more
// than chance and less than a heavy door does, which is evidence and said there. It weighs
// for no fault; a door that is accused by something else is not acquitted by it.
func doorLoad(captures []*Capture, accused bool) string {
	ways, unit, known, ok := pacesBothWays(captures)
	if !ok || longerThanFree(captures) != "" || slowedByDoor(captures) != nil {
		return ""
	}
	var say []string
	slow, worst, at12, moves := 0, 1.0, 1.0, math.MaxInt
	for i, d := range []Direction{Up, Down} {
		p := ways[side(d)]
		share := p.with / p.without
		text := fmt.Sprintf("Going %s, it runs at %s a second with the door and at %s without", d, amount(p.with, unit), amount(p.without, unit))
		if i > 0 {
			text = fmt.Sprintf("going %s, at %s and %s", d, amount(p.with, unit), amount(p.without, unit))
		}
		if share < sameSpeed {
			slow++
			moves = min(moves, p.moves)
			text += fmt.Sprintf(" (%.0f %% slower)", 100*(1-share))
		}
		worst, at12 = math.Min(worst, share), math.Min(at12, p.keeps())
		say = append(say, text)
	}
	if slow == 0 {
		return ""
	}
	s := strings.Join(say, "; ")
	if known {
		s += ", all at the same drive"
	}
	s += ". "
	if !known && slow == 2 {
		return s + "That is the load of the door, or a lower supply: the drive's volts were not logged."
	}
	if worst < 1/heavyDoor && at12 >= 1/heavyDoor {
		s += fmt.Sprintf("A load costs more of the speed the lower the volts are: at 12 V it would keep %.0f %% of it. ", 100*at12)
	}
	switch {
	case at12 >= 1/heavyDoor && accused:
		s += "Over the whole way that alone would be no evidence, a good motor keeps two thirds of its speed on a good door; what speaks against this one is told apart."
	case at12 >= 1/heavyDoor && slow == 1:
		s += "That is a load one way, such as the weight of the door or a spring, and by itself no more than a good door takes: a good motor keeps two thirds of its speed."
	case at12 >= 1/heavyDoor:
		s += "That is the load of the door, and by itself no more than a good one takes: a good motor keeps two thirds of its speed."
	case moves < 2:
		s += "A good motor keeps two thirds of its speed on a good door; one move that way is too few to call this door heavy."
	default:
		s += "A good motor keeps two thirds of its speed on a good door: this is more load than usual, though one way only or not at every drive."
	}
	return s
}
