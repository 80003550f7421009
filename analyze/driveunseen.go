package analyze

import "fmt"

// travelsAlone says of the first capture in which the shaft goes most of its way without
// a drive, again and again, that it does; "" of none. A shaft that a hand moves does so
// once or twice, and a contact that comes and goes leaps. What goes its way time and
// again is driven, and what was taken for the drive does not show it: whatever else was
// found hangs on the drive, and cannot be stated.
func travelsAlone(captures []*Capture) string {
	const (
		times = 3
		share = 0.3 // of the travel (both chosen, not derived)
	)
	for _, c := range captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			if most := f.value(longestUndriven); f.Kind == SelfMotion && f.Form != yetItTravels && f.Seen >= times && most > share*c.Span.Width() {
				return fmt.Sprintf("the reading travels by up to %s with no drive to be seen, %s", amount(most, c.Unit), timesText(f.Seen))
			}
		}
	}
	return ""
}
