package analyze

import (
	"fmt"
	"math"
	"time"
)

// vouched is how much of what a sound actuator does captures show.
type vouched struct {
	seen  float64 // see [Capture.seen]
	shown float64 // the chance that a fault would have shown, see coverageShows
}

func (v vouched) with(o vouched) vouched {
	return vouched{math.Max(v.seen, o.seen), math.Max(v.shown, o.shown)}
}

// vouches is what a capture shows. Travel against the drive, which no finding explains,
// shows nothing of what a sound actuator does.
func (c *Capture) vouches() vouched {
	if c.contrary != "" && !c.finds() {
		return vouched{}
	}
	return vouched{c.seen * c.sees, coverageShows(c.seen) * c.sees}
}

// oneVisit is how long after one another captures may be dated that show an actuator as it
// is: what is left for longer may have failed since (chosen, not derived: a working day, and
// the morning after).
const oneVisit = 24 * time.Hour

// clearing is what captures, in their order, show of the actuator as it is now, and the one
// that is not cleared by what the others show, if any. What an earlier capture saw vouches
// for then. So one that was taken before the last visit clears nothing, and one with a sign
// of a fault is cleared by itself, or by what is known to be later.
func clearing(captures []*Capture) (now vouched, doubted *Capture) {
	var last time.Time
	for _, c := range captures {
		if c.Start.After(last) {
			last = c.Start
		}
	}
	for _, c := range captures {
		if c.Start.IsZero() || last.Sub(c.Start) < oneVisit {
			now = now.with(c.vouches())
		}
	}
	for _, c := range captures {
		tries := c.checkAside()
		if !c.finds() && (tries == nil || forceOf(tries.weights) <= math.Log(3)) {
			continue
		}
		own := c.vouches()
		for _, x := range captures {
			if !c.Start.IsZero() && x.Start.After(c.Start) {
				own = own.with(x.vouches())
			}
		}
		if own.seen < now.seen || own.shown < now.shown {
			now, doubted = vouched{math.Min(now.seen, own.seen), math.Min(now.shown, own.shown)}, c
		}
	}
	return now, doubted
}

// notCleared says of a capture that the others do not clear it.
func (c *Capture) notCleared() string {
	return fmt.Sprintf("what %s shows a sign of and was not driven to show, the other captures do not clear: they show the actuator at another time", c.Source)
}
