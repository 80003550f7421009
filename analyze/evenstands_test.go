package analyze

import (
	"math"
	"testing"
)

// standing draws a shaft that stands for a moment, under drive upward, each time that one
// of the turns of the motor is reached, and a reading bent against them.
func standing(seed uint64, turns []float64, seconds float64, springs bool) *draft {
	d := newDraft(seed)
	d.hi, d.rate = 4.4, 0.8
	next, until, owed := 0, 0.0, 0.0
	d.speed = func(d *draft, dir float64) float64 {
		if dir < 0 {
			next = 0
			return 1
		}
		if d.t < until {
			owed += d.rate * d.dt
			return 0
		}
		if next < len(turns) && d.x >= turns[next] {
			next++
			until = d.t + seconds
			return 0
		}
		if springs && owed > 0 {
			owed -= d.rate * d.dt * 2
			return 3
		}
		owed = 0
		return 1
	}
	d.read = func(d *draft) float64 { x := d.x / 4.5; return 4.5 * x * (1.4 - 0.4*x) }
	return d
}

// Stands that come after turns of one length are a gear's; those that come as they will,
// or spring on, are not. (Drawn.)
func TestEvenStandsOfOnePass(t *testing.T) {
	t.Parallel()
	even := []float64{1, 1.6, 2.2, 2.8, 3.4, 4}
	for _, c := range []struct {
		name string
		d    *draft
		want bool
	}{
		{"a tooth", standing(1, even, 0.25, false), true},
		{"as they come", standing(2, []float64{0.9, 1.6, 2, 3, 3.3, 3.9}, 0.25, false), false},
		{"dry friction springs on", standing(3, even, 0.25, true), false},
		{"a place or two", standing(4, even[:2], 0.25, false), false},
	} {
		c.d.run(0, 1).run(12, 9).run(0, 1).run(-12, 7).run(0, 1)
		got := examined(t, c.d, false)
		found := false
		for _, f := range got.Findings {
			found = found || f.Kind == GearTurn
		}
		if found != c.want {
			t.Errorf("%s: %s", c.name, say(got, Judge(got).Verdict))
		}
	}
}

// Where only the polarity was logged a control may switch its motor off between whiles: it
// keeps its own time from each start, or all along; a gear comes round by the way. (Drawn.)
func TestEvenStandsWithoutVolts(t *testing.T) {
	t.Parallel()
	const stand, turn, period = 0.25, 0.52, 0.9
	byWay := func(d *draft, dir float64) bool {
		return math.Mod(d.x+5-0.1*dir, turn) < d.rate*d.dt
	}
	fromStart := 0.0
	for _, c := range []struct {
		name  string
		stops func(d *draft, dir float64) bool
		want  bool
	}{
		{"a gear", byWay, true},
		{"a timer from the start", func(d *draft, _ float64) bool { return math.Mod(d.t-fromStart, period) < d.dt }, false},
		{"a timer all along", func(d *draft, _ float64) bool { return math.Mod(d.t, period) < d.dt }, false},
	} {
		d := newDraft(5)
		d.hi, d.rate, d.signOnly = 4.4, 0.8, true
		d.read = func(d *draft) float64 { x := d.x / 4.5; return 4.5 * x * (1.4 - 0.4*x) }
		until, way := 0.0, 0.0
		d.speed = func(d *draft, dir float64) float64 {
			if dir != way {
				way, fromStart = dir, d.t
			}
			if d.t >= until+2*d.dt && c.stops(d, dir) {
				until = d.t + stand
			}
			switch {
			case d.t < until:
				return 0
			case dir < 0:
				return 0.8 // its load differs from way to way
			}
			return 1
		}
		d.run(0, 1).run(12, 9).run(0, 1).run(-12, 11).run(0, 1)
		got := examined(t, d, false)
		found := false
		for _, f := range got.Findings {
			found = found || f.Kind == GearTurn
		}
		if found != c.want {
			t.Errorf("%s: %s", c.name, say(got, Judge(got).Verdict))
		}
	}
}
