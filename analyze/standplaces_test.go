package analyze

import (
	"math"
	"strings"
	"testing"
)

// A shaft that catches at several places: each is named; evenly spaced they may be teeth
// as well as a door's, and that is left open. (Drawn.)
func TestPlacesWhereItCatches(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		at     []float64
		title  string
		stated bool // the door
	}{
		{"evenly spaced", []float64{1.31, 1.385, 1.45}, "Catches at 1.31 V, 1.38 V and 1.45 V, evenly spaced (", false},
		{"unevenly spaced", []float64{1.31, 1.37, 1.5}, "Catches at 1.31 V, 1.37 V and 1.50 V (", true},
	} {
		d := newDraft(11)
		d.dt, d.noise, d.rate = 0.01, 0.004, 0.5
		pass, came := 0, 0.0
		held := make([]float64, len(c.at))
		before := d.x
		d.block = func(d *draft, dir float64) bool {
			if dir != came {
				came = dir
				pass++
				clear(held)
			}
			for i, at := range c.at {
				if (before-at)*(d.x-at) <= 0 && held[i] < 1.0+0.1*float64((pass*3+i*2)%7) {
					held[i] += d.dt
					return true
				}
			}
			before = d.x
			return false
		}
		d.run(0, 1)
		for range 3 {
			d.run(12, 15).run(0, 0.5).run(-12, 15).run(0, 0.5)
		}
		got := examined(t, d, false)
		v := Judge(got).Verdict
		f := finding(got, SlowZone)
		if f == nil || f.Form != standsAndGoes || !strings.HasPrefix(strings.Replace(f.Title, "1.39", "1.38", 1), c.title) || (v.Conclusion == DoorMechanism) != c.stated {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
		if motor := chanceIn(v, Motor); motor > 0.1 == c.stated || math.IsNaN(motor) {
			t.Errorf("%s: motor %.2f", c.name, motor)
		}
	}
}

func chanceIn(v Verdict, f Fault) float64 {
	for _, c := range v.Chances {
		if c.Fault == f {
			return c.Probability
		}
	}
	return math.NaN()
}
