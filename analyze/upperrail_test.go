package analyze

import (
	"math"
	"testing"
)

// TestBrokenTrackLowSupply draws a track that is broken through and fed with 3.3 V, no
// reference logged: from ground to its supply and back as the shaft is driven over the
// place. A wire that falls to ground at times that know no place is none.
func TestBrokenTrackLowSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		read func(d *draft) float64
		want bool
	}{
		{"a track broken through", func(d *draft) float64 {
			if d.x > 2 {
				return 3.3
			}
			return 0
		}, true},
		{"a wire that falls to ground at times", func(d *draft) float64 {
			if math.Mod(d.t, 4.7) < 1.3 {
				return 0
			}
			return 3.3
		}, false},
	} {
		d := newDraft(1)
		d.read = c.read
		r := judgedDraft(t, d.sweeps(4))
		found := false
		for _, f := range r.Captures[0].Findings {
			found = found || f.Form == railToRail && f.Strength > 0.5
		}
		if found != c.want || c.want && r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("%s: found %v, want %v; %v, %s", c.name, found, c.want, r.Verdict.Conclusion, r.Verdict.Summary)
		}
	}
}
