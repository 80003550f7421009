package analyze

import "fmt"

// movesTooShort is said of a capture whose moves show no speed.
const movesTooShort = "no move is long enough to compare speeds"

// slowAsBefore says why a capture after a repair could not have shown a finding about
// speeds, or "": step by step none shows, and a way that is slower than the other by half
// of what it was, and more, fell below a limit and is not gone. (Half way between what was
// wrong and what would be right is nearer to neither.)
func slowAsBefore(b *Capture, f *Finding, a *Capture) string {
	switch {
	case f.Kind == SlowZone && f.Form == "" && a.lacks(SlowZone, movesTooShort):
		return fmt.Sprintf("in %s %s; drive it over the place at one go", a.Source, movesTooShort)
	case f.Kind == UnevenWays && a.Sense*b.Sense > 0:
		that, n := a.pace(f.Direction)
		other, m := a.pace(-f.Direction)
		if min(n, m) == 0 {
			return fmt.Sprintf("in %s %s; drive it both ways over more of the travel", a.Source, movesTooShort)
		}
		if was := f.value(MeasureSlowerThatWay); other/that > 1+(was-1)/2 {
			return fmt.Sprintf("in %s it still takes %.1f times as long that way", a.Source, other/that)
		}
	}
	return ""
}
