package analyze

import (
	"strings"
)

// lasted counts the drives of a capture that found something as a state: there
// for most of each of inState of all drives. It is none for what came and went, and
// for what lasted over a single drive, which may be an event like any other. What
// is there from drive to drive has as many chances to be gone, and would show
// in any drive after.
func (c *Capture) lasted(f *Finding) (inState, all int) {
	during := f.Time
	switch f.Kind {
	case NoMotion, NotAPot:
		if f.has(movedUntil) { // what came before it was answered
			return several(f.Seen, f.Seen)
		}
		return len(c.Moves), len(c.Moves)
	case SupplySag:
		if f.Form == sagSupply || f.Form == onePolarity {
			return several(f.Seen, max(f.Seen, f.Passes))
		}
		// It is known at stops and starts only.
		n := c.chances(f, f.Volts)
		return several(n, n)
	case AtRail:
		if f.Form == crushed || strings.HasSuffix(f.Form, allTheTime) {
			return several(len(c.Moves), len(c.Moves))
		}
	case RefLoss:
		if f.Form != "" && f.Form != fromThenOn {
			return several(len(c.Moves), len(c.Moves))
		}
		if f.Seen != 1 {
			return 0, 0
		}
	case LastingLeap:
	default:
		return 0, 0
	}
	for _, m := range c.Moves {
		if m.Time.inCommon(during) > 0.5*m.Duration() {
			inState++
		}
	}
	return several(inState, len(c.Moves))
}

// several are counts of two and more; one may be chance.
func several(in, all int) (int, int) {
	if in < 2 {
		return 0, 0
	}
	return in, all
}
