package analyze

import (
	"math"
	"testing"
)

// TestFloatsBeyond draws a track that is open beyond a place, whose open wire picks up
// slow hum, and what goes back and forth at an end for another reason.
func TestFloatsBeyond(t *testing.T) {
	t.Parallel()
	hum := func(d *draft) float64 { return 2.4 + 1.1*math.Cos(2*math.Pi*0.9*(d.t+0.4)) }
	thrown := 0.0 // until then, by teeth that let go
	drawn := func(read func(d *draft) float64) *draft {
		d := newDraft(1)
		d.dt, d.rate, d.noise, d.read = 0.01, 0.3, 0.008, read
		return d.sweeps(4)
	}
	for _, c := range []struct {
		name string
		d    *draft
		want bool
	}{
		{"an open end", drawn(func(d *draft) float64 {
			if d.x > 3.8 {
				return hum(d)
			}
			return d.x
		}), true},
		{"a wire that opens at any place", drawn(func(d *draft) float64 {
			if k := math.Mod(d.t, 7.3); k < 1.5 {
				return hum(d)
			}
			return d.x
		}), false},
		{"teeth that let go at the stop", drawn(func(d *draft) float64 {
			if d.x >= d.hi && d.volts > 0 {
				thrown = d.t + 0.15
			}
			if d.t < thrown {
				d.x -= 0.04
			}
			return d.x
		}), false},
	} {
		r := judgedDraft(t, c.d)
		found := false
		for _, f := range r.Captures[0].Findings {
			found = found || f.Kind == DeadSpot && f.Form == openBeyond
		}
		// Where its edge is told as noise, that says the same.
		noisy := r.Captures[0].shows(NoisyTrack)
		if found && !c.want || c.want && !found && !noisy || c.want && r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("%s: found %v, want %v; %v, %s", c.name, found, c.want, r.Verdict.Conclusion, r.Verdict.Summary)
		}
	}
}
