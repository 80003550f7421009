package analyze

import (
	"strings"
	"testing"
)

// A place is slow with the door and without. On the track it is as slow as before by the
// share of a speed that the door takes a fifth of; under a load in the gears that fifth is
// gone there too; where the door takes nothing the two look alike. (Drawn.)
func TestSlowPlaceBySameShare(t *testing.T) {
	t.Parallel()
	drawn := func(seed uint64, usual, there float64) *draft {
		d := newDraft(seed)
		d.signOnly = true
		d.speed = func(d *draft, _ float64) float64 {
			if d.x > 2.2 && d.x < 2.9 {
				return there
			}
			return usual
		}
		return d.sweeps(3)
	}
	for _, c := range []struct {
		name         string
		usual, there float64 // coupled; 1 and 0.4 uncoupled
		said         bool
	}{
		{"a track's share", 0.8, 0.32, true},
		{"a load's difference", 0.8, 0.2, false},
		{"a door that takes nothing", 1, 0.4, false},
	} {
		r := Judge(examineWith(t, drawn(1, c.usual, c.there), nil, false), examineWith(t, drawn(2, 1, 0.4), nil, true))
		said := false
		for _, e := range append(r.Verdict.For, r.Verdict.Against...) {
			said = said || e.Finding == FreeRun && strings.Contains(e.Text, "a load there would leave")
		}
		if said != c.said || (r.Verdict.Conclusion == FeedbackSensor) != c.said {
			t.Errorf("%s: said %v: %s", c.name, said, r.Verdict.Summary)
		}
	}
}
