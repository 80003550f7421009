package analyze

import (
	"math"
	"testing"
)

// A hand that turns a switch over rests for a twentieth of a second: a shaft on its way may
// still go on then, either way, but what a stop's current lifted falls, and the new start
// lifts it anew, whatever way is driven. Stops that give do that with the direction, and a
// shaft that coasts not at all. (Drawn.)
func TestStepsAfterShortRests(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		shift func(d *draft, stalled bool) float64
		want  bool
	}{
		{"a ground that the motor lifts", func(d *draft, stalled bool) float64 {
			switch {
			case d.volts == 0:
				return 0
			case stalled:
				return 0.35
			}
			return 0.15
		}, true},
		{"stops that give", func(d *draft, stalled bool) float64 {
			if stalled && d.volts != 0 {
				return math.Copysign(0.05, d.volts)
			}
			return 0
		}, false},
		{"sound", func(*draft, bool) float64 { return 0 }, false},
	} {
		d := newDraft(3)
		d.dt, d.noise, d.lo, d.x, d.hi = 0.01, 0.006, 1, 4, 4
		d.read = func(d *draft) float64 { return d.x + c.shift(d, d.x == d.lo || d.x == d.hi) }
		d.run(0, 0.5).run(12, 1.2).run(0, 0.05)
		d.run(-12, 5).run(0, 0.05).run(12, 5).run(0, 0.05).run(-12, 5).run(0, 2)
		got, err := Examine(d.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		f := finding(got, DriveShift)
		if found := f != nil && f.Strength > 0.5; found != c.want || found && f.Form != alikeBothWays {
			t.Errorf("%s: found %v: %s", c.name, found, say(got, Judge(got).Verdict))
		}
	}
}
