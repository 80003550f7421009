package analyze

import (
	"math"
	"testing"
)

// leapsWhere draws an actuator whose reading leaps up for a row now and then where and
// when it is told to.
func leapsWhere(seed uint64, when func(d *draft, dir float64) bool) *draft {
	d := newDraft(seed)
	d.read = func(d *draft) float64 {
		dir := 0.0
		if d.volts != 0 {
			dir = math.Copysign(1, d.volts)
		}
		if when(d, dir) && d.rng.Float64() < 0.08 {
			return math.Min(4.95, d.x+0.1+0.5*d.rng.Float64())
		}
		return d.x
	}
	return d
}

// TestRoughOneWay draws a wiper that catches one way, and what leaps otherwise.
func TestRoughOneWay(t *testing.T) {
	t.Parallel()
	in := func(d *draft, lo, hi float64) bool { return d.x > lo && d.x < hi }
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			d    *draft
			want bool
		}{
			{"going down over a stretch", leapsWhere(seed, func(d *draft, dir float64) bool { return dir < 0 && in(d, 2, 3.5) }).sweeps(3), true},
			{"going up next to a stop", leapsWhere(seed, func(d *draft, dir float64) bool { return dir > 0 && in(d, 3.4, 4.45) }).sweeps(3), true},
			{"both ways over a stretch", leapsWhere(seed, func(d *draft, dir float64) bool { return dir != 0 && in(d, 2, 3.5) }).sweeps(3), false},
			{"at times", leapsWhere(seed, func(d *draft, _ float64) bool { return math.Mod(d.t, 8) < 2 }).sweeps(3), false},
			{"one way in one pass of three", leapsWhere(seed, func(d *draft, dir float64) bool { return dir < 0 && d.t < 14 && in(d, 2, 3.5) }).sweeps(3), false},
			{"none", leapsWhere(seed, func(*draft, float64) bool { return false }).sweeps(3), false},
		} {
			r := judgedDraft(t, c.d)
			// Rows that fall together are told as a place before.
			found := false
			for _, f := range r.Captures[0].Findings {
				found = found || f.Form == roughOneWay || c.want && (f.Form == noisyBeyond || f.Kind == DeadSpot && f.Tie == TiedToPosition)
			}
			if found != c.want || c.want && (r.Verdict.Conclusion != FeedbackSensor || r.Verdict.Probability < 0.85) {
				t.Errorf("%s, seed %d: found %v, want %v; %s", c.name, seed, found, c.want, r.Verdict.Summary)
			}
		}
	}
}
