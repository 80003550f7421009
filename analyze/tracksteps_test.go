package analyze

import (
	"math"
	"slices"
	"testing"
)

// A reading that advances in even steps while the motor draws as much is the track's, in
// steps of its own; where the motor draws more a gear holds it, and where it draws less
// teeth are missing.
func TestTrackMadeInSteps(t *testing.T) {
	t.Parallel()
	const turn, share = 0.3, 0.3
	for _, c := range []struct {
		name  string
		amps  float64 // A at the slow places; 0.12 run it and 0.5 hold it
		steps bool
	}{
		{"draws as much", 0.12, true},
		{"a gear loads it", 0.4, false},
		{"missing teeth unload it", 0.05, false},
	} {
		a := newAmmeter(5)
		geared(a.draft, turn, share, 0.3, 0)
		a.amps = func(d *draft) float64 {
			if _, at := math.Modf(d.x / turn); at < share && d.x > d.lo && d.x < d.hi {
				return c.amps
			}
			return math.NaN()
		}
		unhurried(a.draft, 4)
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		f := finding(got, GearTurn)
		switch {
		case f == nil:
			t.Errorf("%s: no pattern: %s", c.name, say(got, v))
		case c.steps != (f.Form == madeInSteps) || c.steps == (v.Conclusion == Motor):
			t.Errorf("%s: form %q, %s", c.name, f.Form, say(got, v))
		case c.steps && slices.ContainsFunc(v.Next, func(n NextTest) bool { return n.Name == runItFree }):
			t.Errorf("%s: a free run is asked for, which shows the same steps", c.name)
		}
	}
}
