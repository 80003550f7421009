package analyze

import (
	"math"
	"testing"
)

// A reading that leaves the stop's level and leaps back to it, arrival after arrival
// at one stop, is a track that fails there. Sparks are too short, and what happens at
// both stops may be any contact that a blow shakes.
func TestContactLostAtOneStop(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		low, high bool    // lost at
		long      float64 // s
		want      bool
	}{
		{"lost at the low stop", true, false, 0.12, true},
		{"lost at the high stop", false, true, 0.12, true},
		{"lost at both stops", true, true, 0.12, false},
		{"sparks at the low stop", true, false, 0.005, false},
		{"never lost", false, false, 0, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			since := 0.0 // at the stop
			d.read = func(d *draft) float64 {
				if d.volts == 0 || d.x > d.lo && d.x < d.hi {
					since = 0
					return d.x
				}
				since += d.dt
				// An input that is open runs down until the wiper is back on its track.
				if in := since - 0.1; in > 0 && in <= c.long && (d.x <= d.lo && c.low || d.x >= d.hi && c.high) {
					return math.Max(0.15, d.x-0.35*math.Min(1, in/0.05+0.5))
				}
				return d.x
			}
			got := examineDraft(t, d.sweeps(3))
			has, told := false, false
			for _, f := range got.Findings {
				// Where it is lost in every arrival that may show as noise of the track's end.
				told = told || f.Form == lostAtStop
				has = has || f.Form == lostAtStop || c.want && f.Kind == NoisyTrack
			}
			if has != c.want {
				t.Errorf("%s, seed %d: contact lost at the stop: %v, expected %v", c.name, seed, has, c.want)
			}
			for _, a := range got.Absent {
				if told && a.Kind == Dropouts {
					t.Errorf("%s, seed %d: denied beside it: %s", c.name, seed, a.Text)
				}
			}
			if v := judge([]*Capture{got}, nil).Verdict; c.want && v.Conclusion != FeedbackSensor {
				t.Errorf("%s, seed %d: %s %.2f", c.name, seed, v.Conclusion, v.Probability)
			}
		}
	}
}
