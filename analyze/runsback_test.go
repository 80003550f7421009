package analyze

import (
	"math"
	"testing"
)

// On a track that runs back the reading turns round at one place going up as going
// down. Teeth that let go fall back with the load, one way, and at once.
func TestTrackThatRunsBack(t *testing.T) {
	t.Parallel()
	// Between 2.3 and 2.55 V of a straight track the reading falls by 0.2 V.
	folded := func(x float64) float64 {
		switch {
		case x < 2.3:
			return x
		case x < 2.55:
			return 2.3 - 0.8*(x-2.3)
		}
		return 2.1 + (x-2.55)*2.4/1.95
	}
	for _, c := range []struct {
		name string
		read func(d *draft) float64
		want bool
	}{
		{"both ways", func(d *draft) float64 { return folded(d.x) }, true},
		{"both ways, further down from the second pass on", func(d *draft) float64 {
			if d.t < 8 {
				return d.x
			}
			return folded(d.x)
		}, true},
		{"going up only", func(d *draft) float64 {
			if d.volts < 0 {
				return d.x
			}
			return folded(d.x)
		}, false},
		{"within a row", func(d *draft) float64 {
			if d.x < 2.3 {
				return d.x
			}
			return 2.1 + (d.x-2.3)*2.4/2.2
		}, false},
		{"within a tenth of a second", func(d *draft) float64 {
			if d.x < 2.3 {
				return d.x
			}
			return math.Max(2.3-3*(d.x-2.3), 2.1+(d.x-2.3)*2.4/2.2)
		}, false},
		{"most of it within a row", func(d *draft) float64 {
			switch {
			case d.x < 2.3:
				return d.x
			case d.x < 2.45:
				return 2.3 - 0.5*(d.x-2.3)
			case d.x < 2.6:
				return 2 - 0.5*(d.x-2.45)
			}
			return 1.925 + (d.x-2.6)*2.575/1.9
		}, false},
		{"faster than a motor", func(d *draft) float64 {
			if d.x < 2.8 {
				return d.x
			}
			return math.Max(2.8-9*(d.x-2.8), 1.63+(d.x-2.93)*2.87/1.57)
		}, false},
		{"two places, one for each way", func(d *draft) float64 {
			if d.volts < 0 {
				return folded(d.x+0.8) - 0.8
			}
			return folded(d.x)
		}, false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.read = c.read
			got, v := look(t, d.sweeps(3))
			f := finding(got, BentTrack)
			found := f != nil && f.Form == runsBack
			if found != c.want {
				t.Errorf("%s, seed %d: found %v; %s", c.name, seed, found, say(got, v))
				continue
			}
			if !found {
				continue
			}
			if v.Conclusion != FeedbackSensor || f.Direction != None || math.Abs(f.Volts.From-2.1) > 0.05 || math.Abs(f.Volts.To-2.3) > 0.05 {
				t.Errorf("%s, seed %d: %+v; %s", c.name, seed, f.Volts, say(got, v))
			}
			for _, g := range got.Findings { // teeth and the like are what it looks like
				if g.Event != f.Event {
					t.Errorf("%s, seed %d: %q stands beside it", c.name, seed, g.Kind)
				}
			}
		}
	}
}
