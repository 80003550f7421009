package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
)

// freedPlace is the share of its usual speed from which an uncoupled shaft runs through a
// place as it does elsewhere: more than the tenth that tracks and gears make it swing.
const freedPlace = 0.85

// slowPlaceUncoupled looks for a slow place of a coupled capture, too faint or too seldom
// passed to say much by itself, that the uncoupled shaft runs through as fast as through
// the rest: track, gears and instrument are the same, so the load there is the door's.
// Of stops it says nothing: foam lies there on every door, see pressedAtStop.
func slowPlaceUncoupled(captures []*Capture) *aside {
	var best *Finding
	through, unit := 0.0, ""
	for _, c := range captures {
		if c.Free {
			continue
		}
		for i := range c.Findings {
			f := &c.Findings[i]
			if f.Kind != SlowZone || f.Form == intoOneStop || f.Form == clingsAtStop || !(f.force() > 0) || best != nil && f.Strength <= best.Strength {
				continue
			}
			if share, ok := throughUncoupled(captures, c, f); ok && share >= freedPlace {
				best, through, unit = f, share, c.Unit
			}
		}
	}
	if best == nil {
		return nil
	}
	a := newAside(FreeRun, shown{.02, .02, .04, .3, .02}, best.Strength,
		fmt.Sprintf("Uncoupled, it runs from %.2f to %.2f %s at %.0f %% of its speed elsewhere: what slows it there is the door.", best.Volts.From, best.Volts.To, unit, 100*through),
		"track, gears and instrument are the same with the door and without: the load that is gone is the door's, though so few passes may be chance")
	return &a
}

// throughUncoupled is the speed of the uncoupled shaft in a slow place of a coupled one,
// over its usual speed, in the same direction; false where most of the place was not
// passed.
func throughUncoupled(captures []*Capture, c *Capture, f *Finding) (share float64, ok bool) {
	share = math.Inf(1)
	for _, x := range captures {
		if !x.Free {
			continue
		}
		k, known := levelScale(x, c)
		if !known {
			return 0, false
		}
		for i := range x.Profiles {
			p := &x.Profiles[i]
			if p.Direction != f.Direction || len(p.Points) < 5 {
				continue
			}
			cell := math.Inf(1)
			var all, in []float64
			for j, q := range p.Points {
				all = append(all, q.Rate)
				if j > 0 {
					cell = math.Min(cell, k*(q.Position-p.Points[j-1].Position))
				}
				if at := k * q.Position; at >= f.Volts.From && at <= f.Volts.To {
					in = append(in, q.Slowest)
				}
			}
			if usual := stats.Median(all); usual > 0 && float64(len(in))*cell > 0.7*f.Volts.Width() {
				share, ok = math.Min(share, stats.Median(in)/usual), true
			}
		}
	}
	return share, ok
}
