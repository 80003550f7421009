package analyze

import (
	"math"
	"slices"
	"testing"
)

// springing lets the shaft stand until gears and linkage have wound up by step V, and
// then spring on at 15 V/s; it creeps meanwhile at a tenth of its speed.
func springing(d *draft, step float64) *draft {
	wound, loose := d.x, false
	d.speed = func(d *draft, dir float64) float64 {
		wound = math.Max(d.lo, math.Min(d.hi, wound+d.volts/12*d.rate*d.dt))
		due := dir * (wound - d.x)
		if loose = due > step*(1+0.1*d.rng.NormFloat64()) || loose && due > 0.02; loose {
			return math.Min(15*d.dt, due) / (d.rate * d.dt)
		}
		return 0.1
	}
	return d
}

// renewed makes the reading one that a slow converter takes every so many s.
func renewed(d *draft, every float64) *draft {
	next, last := 0.0, 0.0
	d.read = func(d *draft) float64 {
		if d.t >= next-1e-9 {
			next, last = next+every, d.x
		}
		return last
	}
	return d
}

// A way that is all leaps and stands leaves nothing to measure between them: neither
// play nor the turn of a gear nor a worn track may be read from it.
func TestStairway(t *testing.T) {
	t.Parallel()
	for _, step := range []float64{0.4, 0.5, 0.7} {
		for seed := range uint64(2) {
			got, v := look(t, springing(newDraft(seed), step).sweeps(3))
			f := finding(got, StickSlip)
			if f == nil || f.Form != springsOn || f.Event != stairway || f.Passes != 6 || v.Conclusion != DoorMechanism {
				t.Errorf("steps of %.1f V, seed %d: %s", step, seed, say(got, v))
				continue
			}
			// From leap to leap it winds up at the shaft's 0.8 V/s.
			if s, _ := f.Measure("longest stand"); s < step/0.8 || s > 1.5*step/0.8 {
				t.Errorf("steps of %.1f V, seed %d: stands up to %.2f s", step, seed, s)
			}
			for _, g := range got.Findings {
				if g.Event != stairway {
					t.Errorf("steps of %.1f V, seed %d: %q stands beside it: %s", step, seed, g.Kind, say(got, v))
				}
			}
		}
	}
}

// Stairs that the instrument makes, one pass of them, and a track that holds at its
// own few places are no friction of the whole way.
func TestNoStairway(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		make func(seed uint64) *draft
		want []Fault // empty: any
	}{
		{"steps of a coarse converter", func(s uint64) *draft {
			d := newDraft(s)
			d.quantum = 0.3
			return d.sweeps(2)
		}, []Fault{NoFault}},
		{"a reading renewed by a clock", func(s uint64) *draft {
			d := newDraft(s)
			d.dt = 0.02
			return renewed(d, 0.4).sweeps(1)
		}, []Fault{CannotTell}},
		{"one pass", func(s uint64) *draft {
			d := springing(newDraft(s), 0.5)
			d.run(0, 1).run(12, 6).run(0, 0.5)
			d.speed = nil
			return d.run(-12, 6).sweeps(2)
		}, nil},
		{"a track that holds at three places", func(s uint64) *draft {
			d := newDraft(s)
			last := d.x
			d.read = func(d *draft) float64 {
				if at := d.x; at < 1.2 || at > 1.5 && at < 2.3 || at > 2.6 && at < 3.4 || at > 3.7 {
					last = at
				}
				return last
			}
			return d.sweeps(2)
		}, []Fault{FeedbackSensor}},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.make(seed))
			for _, f := range got.Findings {
				if f.Event == stairway {
					t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
				}
			}
			if len(c.want) > 0 && !slices.Contains(c.want, v.Conclusion) {
				t.Errorf("%s, seed %d: want %v, got %s", c.name, seed, c.want, say(got, v))
			}
		}
	}
}
