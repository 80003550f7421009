package analyze

import (
	"fmt"
	"math"
	"slices"
)

// leapt says what the stops of a capture tell of a leap of another after which the
// reading went on: from then on it read other levels at the same stops. A capture
// that has them from its beginning shows no leap.
func leapt(b *Capture, f *Finding, a *Capture) (stays bool, blind string) {
	if f.Kind != LastingLeap || f.Form != leapGoesOn {
		return false, ""
	}
	k, ok := levelScale(a, b)
	if !ok {
		return false, fmt.Sprintf("what leapt before the recording began looks healthy, and the levels of %s and %s cannot be compared", a.Source, b.Source)
	}
	same, moved := 0, 0
	for _, d := range []Direction{Down, Up} {
		before, since, now := stopWhile(b, d, func(t float64) bool { return t < f.Time.From }), stopWhile(b, d, func(t float64) bool { return t > f.Time.From }), k*stopWhile(a, d, func(float64) bool { return true })
		// A quarter of the way from one to the other is of neither.
		switch apart := math.Abs(since - before); {
		case !(apart > 0.03*b.Span.Width()) || math.IsNaN(now):
		case math.Abs(now-before) < apart/4:
			same++
		case math.Abs(now-since) < apart/4:
			moved++
		}
	}
	switch {
	case moved > 0 && same == 0:
		return true, ""
	case same > 0 && moved == 0:
		return false, ""
	}
	return false, "what leapt before the recording began looks healthy, and the stops do not tell: they would have to be reached before the leap, after it and after the repair, and a new actuator may read others; compare with a profile (--profile)"
}

// stopWhile is the outermost level of the stops of a side that were run into at
// the times asked for, NaN where there is none.
func stopWhile(c *Capture, d Direction, when func(t float64) bool) float64 {
	level := math.NaN()
	for _, s := range c.Stops {
		if s.Direction == d && slices.ContainsFunc(s.Times, when) && !(float64(d)*(s.Level-level) < 0) {
			level = s.Level
		}
	}
	return level
}
