package analyze

import (
	"math"
	"testing"
)

// strokes drives down a little and then from stop to stop n times, with rests.
func (d *draft) strokes(n int) *draft {
	full := (d.hi-d.lo)/d.rate + 2
	d.x = d.lo + 0.6
	d.run(0, 1).run(-12, 2.5).run(0, 1.5)
	for i := range n {
		volts := 12.0
		if i%2 == 1 {
			volts = -12
		}
		d.run(volts, full).run(0, 1.5)
	}
	return d
}

// startsLate keeps the shaft where it is for some seconds at each start.
func (d *draft) startsLate(seconds func(was, dir float64) float64) *draft {
	left, was, dirWas := 0.0, 0.0, 0.0
	d.speed = func(d *draft, dir float64) float64 {
		if dir != 0 && was == 0 {
			left = seconds(dirWas, dir)
			dirWas = dir
		}
		was = dir
		if left > 0 {
			left -= d.dt
			return 0
		}
		return 1
	}
	return d
}

// What a start takes that is no reversal is no play at one either: a little play and a slow
// start look like much play together.
func TestPlayIsMoreThanAStart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		reversed float64 // s
		found    bool
	}{{0.25, false}, {0.6, true}} {
		d := newDraft(33)
		d.noise, d.x = 0.002, 1
		d.startsLate(func(was, dir float64) float64 {
			if was == 0 || was == dir {
				return 0.12
			}
			return c.reversed
		})
		d.run(0, 1)
		for range 3 {
			d.run(12, 1.5).run(0, 1).run(12, 2).run(0, 1).run(-12, 1.5).run(0, 1).run(-12, 2).run(0, 1)
		}
		if got, v := look(t, d); showsKind(got, Play) != c.found {
			t.Errorf("%.2f s: %s", c.reversed, say(got, v))
		}
	}
}

// Three reversals that lose alike tell play where another start shows what any of them
// takes; a motor that is as slow to start there has none. (Drawn.)
func TestPlayOfThreeReversals(t *testing.T) {
	t.Parallel()
	reversed := func(seconds float64) func(was, dir float64) float64 {
		return func(was, dir float64) float64 {
			if was == 0 || was == dir {
				return 0.1
			}
			return 0.1 + seconds
		}
	}
	checkDrawn(t, []drawnCase{
		{"play, the first start without", func(s uint64) *draft { return newDraft(s).startsLate(reversed(0.5)).strokes(3) }, Motor, Play},
		{"healthy, late at each start alike", func(s uint64) *draft {
			return newDraft(s).startsLate(func(float64, float64) float64 { return 0.4 }).strokes(3)
		}, NoFault, ""},
		{"healthy, a little play", func(s uint64) *draft { return newDraft(s).startsLate(reversed(0.1)).strokes(3) }, NoFault, ""},
	}, Play)
}

// A short drive in which nothing is lost shows what starts take, whatever moved before it:
// three reversals that lose more by as much as no sound gears do then tell play. A motor
// that is late by as much at its short drive as well has none. (Drawn.)
func TestPlayBesideAShortDrive(t *testing.T) {
	t.Parallel()
	for _, late := range []bool{false, true} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.x = d.hi - 0.02
			if late {
				d.startsLate(func(float64, float64) float64 { return 0.4 })
			} else {
				d.played(0.4)
			}
			full := (d.hi-d.lo)/d.rate + 2
			d.run(0, 1).run(-12, full).run(12, 2).run(0, 2).run(-12, 0.3).run(0, 2)
			d.run(12, 0.3).run(0, 2).run(12, 0.6).run(0, 2).run(-12, full).run(12, 2).run(0, 1)
			if got, v := look(t, d); showsKind(got, Play) != !late || (v.Conclusion == Motor) != !late {
				t.Errorf("seed %d, late at each start %v: %s", seed, late, say(got, v))
			}
		}
	}
}

// One reversal each way tells of play where both wait as long, longer than any start takes;
// where they wait less, or not alike, it may be the starts. (Drawn.)
func TestPlayOfTwoReversals(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name            string
		first, up, down float64 // s that the shaft waits at its first start, and at reversals
		want            bool
	}{
		{"both wait long", 0.6, 0.9, 0.9, true},
		{"as long as a start may take", 0.4, 0.4, 0.4, false},
		{"not alike", 0.6, 0.6, 1, false},
		{"where nothing may be reversed it waits longer", 1.4, 0.9, 0.9, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed).startsLate(func(was, dir float64) float64 {
				switch {
				case was == 0:
					return c.first
				case dir > 0:
					return c.up
				}
				return c.down
			})
			d.run(0, 1).run(12, 7).run(0, 1).run(-12, 7).run(0, 1).run(12, 7).run(0, 1)
			if got, v := look(t, d); showsKind(got, Play) != c.want || c.want && v.Conclusion == NoFault {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// A motor that has not started draws what a held one does; one that takes up play runs.
// All starts are reversals here, or nothing is known of how the gears lay. (Drawn.)
func TestPlayByTheCurrentOfAStart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		amps float64
		want bool
	}{
		{"runs while the reading waits", 0.1, true},
		{"is held while the reading waits", 0.5, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(3) {
				a := newAmmeter(seed)
				waits := false
				a.startsLate(func(float64, float64) float64 { return 0.6 })
				late := a.speed
				a.speed = func(d *draft, dir float64) float64 {
					k := late(d, dir)
					waits = dir != 0 && k == 0
					return k
				}
				a.amps = func(d *draft) float64 {
					if waits {
						return c.amps
					}
					return math.NaN()
				}
				a.strokes(3)
				got, err := Examine(a.trace(), Defaults())
				if err != nil {
					t.Fatal(err)
				}
				if showsKind(got, Play) != c.want {
					t.Errorf("seed %d: %s", seed, say(got, Judge(got).Verdict))
				}
			}
		})
	}
}
