package analyze

import "testing"

// toAndFroFor draws a shaft of a short travel that is sent to and fro for a time each way,
// with rests between, and never meets a stop.
func toAndFroFor(seed uint64, rate, each, rest float64, times int) *draft {
	d := newDraft(seed)
	d.dt, d.noise, d.rate = 0.01, 0.002, rate
	d.lo, d.hi, d.x = 2.8, 4.4, 3.2
	d.run(0, 1)
	for k := range times {
		s := each * (0.9 + 0.2*d.rng.Float64())
		if k%2 == 1 {
			s = each
		}
		d.run(12, s).run(0, rest).run(-12, s).run(0, rest)
	}
	return d
}

// A drive that the reading follows for seconds, and that then turns over, is sent to and
// fro; a loop turns over as soon as it can answer.
func TestLongStrokesAreNoHunting(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		c, v := look(t, toAndFroFor(seed, 0.06, 9, 0.3, 8))
		if showsKind(c, Hunting) || v.Conclusion != NoFault {
			t.Errorf("seed %d: sent to and fro: %s", seed, say(c, v))
		}
		c, v = look(t, toAndFroFor(seed, 0.3, 0.6, 0, 12))
		if !showsKind(c, Hunting) {
			t.Errorf("seed %d: a loop: %s", seed, say(c, v))
		}
	}
}

// At its pace a travel can be no longer than the slowest actuator makes it: what was driven
// is most of it, where a quick one may have as much again on either side.
func TestPaceTellsShortTravel(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		if c, v := look(t, toAndFroFor(seed, 0.06, 14, 2, 3)); v.Conclusion != NoFault {
			t.Errorf("seed %d: slow: %s", seed, say(c, v))
		}
		if c, v := look(t, toAndFroFor(seed, 0.6, 1.4, 2, 6)); v.Conclusion != CannotTell {
			t.Errorf("seed %d: quick: %s", seed, say(c, v))
		}
	}
}

// A stop far inside the supply, driven into again and again, is one that such a pace makes
// likely; a quick shaft would have gone on.
func TestShortStopOfASlowPace(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rate  float64
		blame bool
	}{{0.06, false}, {0.6, true}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt, d.noise, d.rate = 0.01, 0.002, c.rate
			d.lo, d.hi, d.x = 2.6, 4.4, 2.9
			d.run(0, 1)
			for range 7 {
				d.run(-12, 0.9/c.rate).run(0, 1).run(12, 0.7/c.rate).run(0, 1)
			}
			got, v := look(t, d)
			if !showsKind(got, Jam) || (v.Conclusion == DoorMechanism) != c.blame {
				t.Errorf("%.2f V/s, seed %d: %s", c.rate, seed, say(got, v))
			}
		}
	}
}

// Even nudges to and fro that the reading follows at once, and between them rests of any
// length: no loop waits so while nothing changes. One that waits by its clock may hunt.
func TestRestsOfAnyLengthAreNoLoop(t *testing.T) {
	t.Parallel()
	for _, loop := range []bool{false, true} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt = 0.01
			d.sweeps(1).run(12, 4.8).run(0, 1)
			for range 10 {
				for _, volts := range []float64{-12, 12} {
					rest := 0.4
					if !loop {
						rest = 0.15 + 0.25*d.rng.ExpFloat64()
					}
					d.run(volts, 0.3).run(0, rest)
				}
			}
			c, v := look(t, d.run(0, 1).sweeps(1))
			f := finding(c, Hunting)
			if loop && (f == nil || f.Strength < 0.5) || !loop && (f != nil && f.Strength > 0.2 || v.Conclusion != NoFault) {
				t.Errorf("loop %v, seed %d: %s", loop, seed, say(c, v))
			}
		}
	}
}
