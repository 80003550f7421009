package analyze

import (
	"math"
	"testing"
)

// labouring slows the motor as it is driven on, by a fifth in a hundred seconds.
func (d *draft) labouring() *draft {
	d.speed = func(d *draft, _ float64) float64 { return math.Max(0.3, 1-0.004*d.t) }
	return d
}

// wiped takes the reading away between two levels.
func (d *draft) wiped(lo, hi float64) *draft {
	d.read = func(d *draft) float64 {
		if d.x > lo && d.x < hi {
			return 0.02
		}
		return d.x
	}
	return d
}

// hunts drives to and fro about the place at which the shaft stands.
func (d *draft) hunts(n int) *draft {
	for range n {
		d.run(-12, 0.4).run(12, 0.4)
	}
	return d.run(0, 0.5)
}

// near takes the shaft from the low stop to a level.
func (d *draft) near(x float64) *draft {
	for d.x < x {
		d.run(12, d.dt)
	}
	return d
}

func TestChain(t *testing.T) {
	t.Parallel()
	long := func(d *draft) *draft {
		for range 6 {
			d.run(12, 9).run(0, 0.5).run(-12, 9).run(0, 0.5)
		}
		return d
	}
	slips := func(d *draft) *draft {
		d.sweeps(1)
		for range 3 {
			d.near(3.6)
			for range 5 {
				d.run(12, 0.3)
				d.x -= 0.2
			}
			d.run(0, 0.5).run(-12, 6).run(0, 0.5)
		}
		return d
	}
	for _, c := range []struct {
		name string
		make func(seed uint64) *draft
		want []string // nothing for no chain
	}{
		{"hot motor, wiped where it hunts", func(s uint64) *draft {
			return long(newDraft(s).labouring().wiped(3.9, 4.05)).near(3.85).hunts(8)
		}, []string{"Likely order: the motor tired and ran hot, then the track wore near the high end, where it hunted", "renew the actuator", "a binding door?"}},
		{"hot motor, wiped in the middle", func(s uint64) *draft {
			return long(newDraft(s).labouring().wiped(2.4, 2.55))
		}, []string{"Possible order: the motor tired and ran hot, then the track wore in mid travel"}},
		{"hot motor, wiped, and a door that binds", func(s uint64) *draft {
			d := newDraft(s).wiped(3.9, 4.05)
			d.speed = func(d *draft, _ float64) float64 {
				k := math.Max(0.3, 1-0.004*d.t)
				if d.x > 1.4 && d.x < 2.1 {
					k *= 0.5
				}
				return k
			}
			return long(d)
		}, []string{"then the track wore near the high end", "free the door first (it binds on its way)"}},
		{"slipping gears and hunting there", func(s uint64) *draft {
			return slips(newDraft(s)).near(3.4).hunts(6)
		}, []string{"Likely order: the gears lost their teeth, then the control hunted"}},
		{"hot motor alone", func(s uint64) *draft { return long(newDraft(s).labouring()) }, nil},
		{"hot motor that hunts", func(s uint64) *draft { return long(newDraft(s).labouring()).near(3.85).hunts(8) }, nil},
		{"wiped track alone, hunting there", func(s uint64) *draft {
			return newDraft(s).wiped(3.9, 4.05).sweeps(6).near(3.85).hunts(8)
		}, nil},
		{"slipping gears alone", func(s uint64) *draft { return slips(newDraft(s)) }, nil},
		{"healthy", func(s uint64) *draft { return newDraft(s).sweeps(5) }, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(3) {
				got, v := look(t, c.make(seed))
				if len(c.want) == 0 && v.Chain != "" {
					t.Errorf("seed %d: unfounded %q\n%s", seed, v.Chain, say(got, v))
				}
				for _, s := range c.want {
					if !contains(v.Chain, s) {
						t.Errorf("seed %d: want %q in %q\n%s", seed, s, v.Chain, say(got, v))
					}
				}
			}
		})
	}
}

// How much slower a tired motor got is said in times that can be read off the curve.
func TestSlowingIsTimed(t *testing.T) {
	t.Parallel()
	c := examineWith(t, newDraft(1).labouring().sweeps(5), nil, false)
	f := finding(c, Heating)
	if f == nil {
		t.Fatalf("found %v", c.Findings)
	}
	first, last, from, to := f.value(firstPassTook), f.value(lastPassTook), f.value(timedFrom), f.value(timedTo)
	// Drawn to run at 1 V/s at first, and always at the speed of that moment.
	way := math.Abs(to - from)
	if way < 2.5 || math.Abs(first-way/(newDraft(1).rate*(1-0.004*c.Moves[0].Time.Mid()))) > 0.15*first {
		t.Errorf("first pass %.2f s over %.2f V", first, way)
	}
	lost := 1 + f.value(changeOfSpeed)/100
	if ratio := first / last; math.Abs(ratio-lost) > 0.06 {
		t.Errorf("timed %.2f and %.2f s, speed down to %.2f", first, last, lost)
	}
	if !contains(f.Title, "the last pass takes") {
		t.Errorf("title %q", f.Title)
	}
}

// The other direction is told beside the one with more time between its passes, in times of its
// own; of a motor that keeps its speeds, slower one way than the other, nothing is told.
func TestSlowingIsTimedBothWays(t *testing.T) {
	t.Parallel()
	for _, slowing := range []float64{0.003, 0} { // of the speed, per s
		d := newDraft(1)
		d.speed = func(d *draft, dir float64) float64 {
			if dir > 0 {
				return 1 - slowing*d.t
			}
			return 0.8 * (1 - slowing*d.t)
		}
		d.run(0, 1)
		for range 5 {
			d.run(12, 10).run(0, 0.5).run(-12, 10).run(0, 0.5)
		}
		c := examineWith(t, d, nil, false)
		f := finding(c, Heating)
		if (f != nil) != (slowing > 0) {
			t.Fatalf("slowing by %g per s: found %v", slowing, c.Findings)
		} else if f == nil {
			continue
		}
		// Down takes a quarter longer than up at the same moment.
		first, last := f.value(firstPassBack), f.value(lastPassBack)
		down, up := first, f.value(firstPassTook)
		if f.value(timedFrom) > f.value(timedTo) {
			down, up = up, down
		}
		if !(down > 1.15*up && down < 1.4*up && last > 1.08*first) {
			t.Error(f.Title)
		}
	}
}
