package main

import (
	"fmt"

	"threewire/analyze"
	"threewire/signal"
)

// An actuator takes 2 to 20 s across its travel (common practice, no source). Thirty times
// more, or less, is no motor but a clock: times in another unit than is written beside them
// are wrong by 60 at least, mostly by a thousand.
const (
	slowestTravel  = 20 * 30 // s
	quickestTravel = 2. / 30 // s
)

// oddClock refuses a capture whose times cannot be seconds: every speed found in it, and
// so most of what is said, would be nonsense.
func oddClock(t *signal.Trace, c *analyze.Capture) error {
	if !(c.Reference > 0) {
		return nil
	}
	wrong := func(what, than string) error {
		return fmt.Errorf("by its times %s, and a row comes every %s; an actuator takes 2 to 20 s across its travel, so the numbers count %s than the one that was taken: correct it in the header (s, ms) or with --scale time=FACTOR; where a clock tells only minutes, give the rows a second with --rate", what, analyze.SecondsText(t.RowStep), than)
	}
	for _, p := range c.Profiles {
		// A usual travel, four fifths of the sensor's supply, whatever of it was seen.
		if travel := 0.8 * c.Reference / p.Nominal; p.Nominal > 0 && travel > slowestTravel && t.RowStep > 0.5 {
			return wrong(fmt.Sprintf("the actuator takes %.0f s across a usual travel", travel), "far smaller units")
		}
	}
	// Driven both ways, and half of the sensor's supply passed.
	f := t.Feedback.Stats
	if c.Duration < quickestTravel && len(c.Moves) > 1 && f.Max-f.Min > c.Reference/2 {
		return wrong(fmt.Sprintf("%d moves over most of the travel were logged in %s", len(c.Moves), analyze.SecondsText(c.Duration)), "far larger units")
	}
	return nil
}
