package analyze

import (
	"math"
	"slices"
	"testing"
)

// inSteps lets the reading advance in even steps while the shaft turns evenly: over a share
// of each step it hardly moves.
func inSteps(d *draft, step, share, slow, scatter float64) *draft {
	factor := map[int]float64{}
	last := 0
	d.speed = func(d *draft, dir float64) float64 {
		n, at := math.Modf(d.x / step)
		if at >= share {
			return 1
		}
		k := int(n)
		if k != last || factor[k] == 0 {
			// What holds a gear differs from turn to turn.
			last, factor[k] = k, math.Max(0.02, 1-(1-slow)*(1+scatter*d.rng.NormFloat64()))
		}
		return factor[k]
	}
	return d
}

// A track that is made in steps takes alike at each step in pass after pass. A gear that is
// held nearly as far as the motor can pull does not: of a torque of 0.8 of the stall's, a
// twentieth more or less is a fifth of the speed that is left.
func TestTrackMadeInSteps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		slow    float64
		scatter float64
		steps   bool
	}{
		{"alike each time", 0.2, 0, true},
		{"as a gear nearly held", 0.2, 0.08, false},
		{"a gear half held", 0.6, 0, false},
	} {
		d := inSteps(newDraft(5), 0.3, 0.3, c.slow, c.scatter)
		got, v := look(t, unhurried(d, 4))
		f := finding(got, GearTurn)
		switch {
		case f == nil:
			t.Errorf("%s: no pattern: %s", c.name, say(got, v))
		case c.steps && (f.Form != madeInSteps || v.Conclusion == Motor):
			t.Errorf("%s: form %q, %s", c.name, f.Form, say(got, v))
		case c.steps && slices.ContainsFunc(v.Next, func(n NextTest) bool { return n.Name == runItFree }):
			t.Errorf("%s: a free run is asked for, which shows the same steps", c.name)
		case !c.steps && (f.Form == madeInSteps || v.Conclusion != Motor):
			t.Errorf("%s: form %q, %s", c.name, f.Form, say(got, v))
		}
	}
}
