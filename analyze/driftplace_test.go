package analyze

import (
	"slices"
	"strings"
	"testing"
)

// A stretch of track before a stop that tells less of the way from month to month, and takes
// the stop's reading along; a door that comes to bind there, and leaves the stop where it was.
// (Drawn.)
func TestDriftTakesItsPlace(t *testing.T) {
	t.Parallel()
	const from, to = 4.1, 4.35
	bent := func(k float64) func(d *draft) {
		return func(d *draft) {
			d.read = func(d *draft) float64 {
				switch {
				case d.x < from:
					return d.x
				case d.x < to:
					return from + (d.x-from)*(1-k)
				}
				return d.x - (to-from)*k
			}
		}
	}
	binds := func(k float64) func(d *draft) {
		return func(d *draft) {
			d.speed = func(d *draft, dir float64) float64 {
				if d.x > from && d.x < to {
					return 1 - k
				}
				return 1
			}
		}
	}
	for _, c := range []struct {
		name           string
		by             func(k float64) func(d *draft)
		likelier, than Fault
	}{{"bends", bent, FeedbackSensor, DoorMechanism}, {"binds", binds, DoorMechanism, FeedbackSensor}} {
		var change []func(d *draft)
		for _, k := range []float64{0, 0.12, 0.24, 0.36, 0.48, 0.6, 0.7} {
			change = append(change, c.by(k))
		}
		list := over(t, change...)
		if kinded(list[len(list)-1], SlowZone) == nil {
			t.Fatalf("%s: no slow zone", c.name)
		}
		r := Judge(list...)
		same := func(e Evidence) bool { return strings.Contains(e.Because, "same change of the track") }
		if taken := slices.ContainsFunc(append(slices.Clone(r.Verdict.For), r.Verdict.Against...), same); taken != (c.likelier == FeedbackSensor) {
			t.Errorf("%s: taken for the drift: %v", c.name, taken)
		}
		if !(chanceOf(r, c.likelier) > 0.6) {
			t.Errorf("%s: %s %.2f, %s %.2f: %s", c.name, c.likelier, chanceOf(r, c.likelier), c.than, chanceOf(r, c.than), r.Series.Text)
		}
	}
}
