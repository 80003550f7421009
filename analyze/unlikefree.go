package analyze

import (
	"fmt"
	"math"
	"strings"
)

// unlikeFree says of uncoupled captures what differs from a coupled one by more than
// a door makes, and asks whether both are of one actuator. A door with a good
// motor takes half of its speed and an obstacle some of its way (common practice,
// no source); it changes neither the sensor's supply nor the control's.
//
// Nor does a door make its actuator faster both ways: its weight helps one way only.
func unlikeFree(captures []*Capture) []string {
	if longerThanFree(captures) != "" {
		return nil // said, and not compared
	}
	const way, pace, supply = 1.25, 2, 1.1
	const swappedPace = 1.2 // more than warmth and grease make from one capture to the next (common practice, no source)
	var out []string
	for _, x := range captures {
		for _, c := range captures {
			if !x.Free || c.Free {
				continue
			}
			var why []string
			ask := "are both of one actuator?"
			if x.refLogged && c.refLogged && !x.shows(RefLoss) && !c.shows(RefLoss) && x.Reference > 0 && c.Reference > 0 && x.Unit == c.Unit {
				if q := x.Reference / c.Reference; q > supply || q < 1/supply {
					why = append(why, fmt.Sprintf("its sensor is supplied with %s, the coupled one with %s", amount(x.Reference, x.Unit), amount(c.Reference, c.Unit)))
				}
			}
			if k, ok := levelScale(x, c); ok {
				if q := k * x.Span.Width() / c.Span.Width(); bothEnds(x.Stops) && bothEnds(c.Stops) && q > way {
					ask = "does the door make that, or are they of two actuators?"
					why = append(why, fmt.Sprintf("its travel is %.0f %% of the coupled one", 100*q))
				}
				if p, q := x.pacePerVolt(), c.pacePerVolt(); x.driveKnown() && c.driveKnown() {
					down, up := k*p[0]/q[0], k*p[1]/q[1] // NaN where there is no sweep
					if math.Max(down, up) < 1/swappedPace {
						ask = "no door speeds its actuator up both ways: are the two files swapped, or of two actuators?"
						why = append(why, fmt.Sprintf("per volt of drive it runs at %.0f %% of the speed, both ways", 50*(down+up)))
					} else if math.Min(down, up) > pace || math.Max(down, up) < 1./pace {
						ask = "does the door make that, or are they of two actuators?"
						why = append(why, fmt.Sprintf("per volt of drive it runs %.1f times as fast", (down+up)/2))
					}
				}
			}
			if len(why) > 0 {
				out = append(out, fmt.Sprintf("%s, uncoupled, is unlike %s: %s; %s", x.Source, c.Source, strings.Join(why, "; "), ask))
			}
		}
	}
	return out
}
