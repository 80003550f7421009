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
		name    string
		running float64 // A; 0.5 hold it
		amps    float64 // A at the slow places
		steps   bool
	}{
		{"draws as much", 0.12, 0.12, true},
		{"a gear loads it", 0.12, 0.4, false},
		{"missing teeth unload it", 0.12, 0.05, false},
		{"hardly loaded, missing teeth take nothing away", 0.04, 0.04, false},
	} {
		a := newAmmeter(5)
		a.running = c.running
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

// stepped lets the reading advance in even steps, in share of their way each.
func stepped(d *draft, step, share float64) *draft {
	d.read = func(d *draft) float64 {
		whole, part := math.Modf((d.x - d.lo) / step)
		return d.lo + step*(whole+min(max((part-0.5)/share+0.5, 0), 1))
	}
	return d
}

// toothless lets the shaft stand for seconds after each turn, play V earlier going up.
func toothless(d *draft, turn, seconds, play float64) *draft {
	last, until := math.NaN(), 0.0
	d.speed = func(d *draft, dir float64) float64 {
		if at := math.Floor((d.x+play*dir/2)/turn + 0.5); at != last {
			if !math.IsNaN(last) {
				until = d.t + seconds
			}
			last = at
		}
		if d.t < until {
			return 0
		}
		return 1
	}
	return d
}

// fewRows draws one sweep each way at 50 Hz: most of the rows of a step then stand, and the
// way between is a leap or two, as it is where friction springs on.
func fewRows(d *draft) *draft {
	d.dt = 0.02
	return unhurried(d, 1)
}

// Without a current, a reading that stands for a third of each step and longer, at the same
// readings both ways, is a track made in steps: no gear that still turns the shaft lacks a
// third of its teeth. A shorter stand is a gear's, and so are places that lie apart by play.
func TestStandsForSteps(t *testing.T) {
	t.Parallel()
	const turn = 0.3 // V, 0.375 s of the way
	for _, c := range []struct {
		name  string
		d     *draft
		steps bool
	}{
		{"stands for half of it", stepped(newDraft(1), turn, 0.5), true},
		{"stands for two fifths", stepped(newDraft(2), turn, 0.6), true},
		{"in two passes and few rows", fewRows(stepped(newDraft(6), turn, 0.5)), true},
		{"two teeth of ten", toothless(newDraft(3), turn, 0.1, 0), false},
		{"apart by play", toothless(newDraft(4), turn, 0.4, 0.1), false},
		{"swings evenly", swung(newDraft(5), turn, 0.3), false},
	} {
		if c.d.t == 0 {
			unhurried(c.d, 4)
		}
		got, err := Examine(c.d.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		f := finding(got, GearTurn)
		switch {
		case f == nil:
			t.Errorf("%s: no pattern: %s", c.name, say(got, v))
		case c.steps != (f.Form == madeInSteps):
			t.Errorf("%s: form %q, %s", c.name, f.Form, say(got, v))
		case c.steps != (v.Conclusion == NoFault):
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
