package analyze

import (
	"fmt"
	"math"
	"strings"
)

// waysOf are the passes seen and made by direction.
func waysOf(seen, made [2]int) []Measure {
	return []Measure{
		{MeasureSeenUp, float64(seen[1]), ""}, {MeasurePassesUp, float64(made[1]), ""},
		{MeasureSeenDown, float64(seen[0]), ""}, {MeasurePassesDown, float64(made[0]), ""},
	}
}

// tieWords says in a clause or two what the finding belongs to, how likely
// chance would do as much, and in how many passes of either direction it was
// seen; empty where nothing could be tested.
func (f *Finding) tieWords() string {
	var s []string
	words := map[Tie]string{
		TiedToPosition: "belongs to the place", TiedToDirection: "goes with one direction of travel",
		TiedToTime: "goes with time", TiedToWarming: "grows the longer it is driven",
	}[f.Tie]
	if f.tieWord != "" {
		words = f.tieWord
	}
	switch {
	case f.ownTie && f.TieP >= 0.1:
		s = append(s, "it "+words)
	case f.Tie == TieUnknown && len(f.Tests) > 0 && f.Seen >= 3 && !f.has(onlyAtEnds): // one or two could not show it
		s = append(s, "nothing shows that it belongs to "+f.testedWords())
	case f.Tie != TieUnknown && f.TieP < 0.1:
		s = append(s, fmt.Sprintf("it %s (%s)", words, oddsText(f.TieP)))
	}
	// Of losses while the shaft stands, the passes are a part at most.
	if up, ok := f.Measure(MeasurePassesUp); ok && f.Form != lossAtRestToo && f.Form != lostAtStop {
		down, _ := f.Measure(MeasurePassesDown)
		a, _ := f.Measure(MeasureSeenUp)
		b, _ := f.Measure(MeasureSeenDown)
		var ways []string
		if up > 0 {
			ways = append(ways, fmt.Sprintf("%.0f of %s up", a, counted(int(up), "pass")))
		}
		if down > 0 {
			ways = append(ways, fmt.Sprintf("%.0f of %.0f down", b, down))
			if up == 0 {
				ways = []string{fmt.Sprintf("%.0f of %s down", b, counted(int(down), "pass"))}
			}
		}
		if len(ways) > 0 {
			s = append(s, "seen in "+strings.Join(ways, " and "))
		}
	}
	return strings.Join(s, "; ")
}

// bothWaysSeen takes the "only" of one direction from a title where the count of the
// passes shows the finding going the other way as well, if less clearly.
func (f *Finding) bothWaysSeen() {
	other := map[Direction]MeasureName{Up: MeasureSeenDown, Down: MeasureSeenUp}[f.Direction]
	if n, ok := f.Measure(other); ok && n > 0 {
		f.Title = strings.Replace(f.Title, ", going "+f.Direction.String()+" only", " going "+f.Direction.String(), 1)
	}
}

// testedWords lists what was tested.
func (f *Finding) testedWords() string {
	var s []string
	for _, x := range f.Tests {
		s = appendNew(s, map[Tie]string{TiedToPosition: "a place", TiedToDirection: "a direction", TiedToTime: "the time driven", TiedToWarming: "the time driven"}[x.Tie])
	}
	if n := len(s) - 1; n > 0 {
		return strings.Join(s[:n], ", ") + " or " + s[n]
	}
	return s[0]
}

// oddsText says a p-value below a half as how often chance does as much.
func oddsText(p float64) string {
	if p < 1e-4 {
		return "pure chance looks like this less than 1 time in 10,000"
	}
	n := 1 / p
	step := math.Max(1, math.Pow(10, math.Floor(math.Log10(n))-1)) // two digits
	return fmt.Sprintf("pure chance looks like this 1 time in %s", thousands(math.Round(n/step)*step))
}

// thousands writes a whole number below a million with a comma.
func thousands(x float64) string {
	if x < 1000 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%d,%03d", int(x)/1000, int(x)%1000)
}
