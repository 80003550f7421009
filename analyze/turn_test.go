package analyze

import (
	"math"
	"testing"
)

// geared lets the speed fall to slow over the given share of each turn of a gear
// that turns once every so many V, play apart going up and down.
func geared(d *draft, turn, share, slow, play float64) *draft {
	d.speed = func(d *draft, dir float64) float64 {
		if _, at := math.Modf((d.x + play*dir/2) / turn); at < share {
			return slow
		}
		return 1
	}
	return d
}

// swung lets the speed swing evenly with each turn, down to slow times the
// usual.
func swung(d *draft, turn, slow float64) *draft {
	d.speed = func(d *draft, dir float64) float64 {
		return 1 + (1-slow)*math.Sin(2*math.Pi*d.x/turn)
	}
	return d
}

// sticking lets the shaft stand at places that follow one another after about
// gap V, counted from where the drive turned round: each slip begins where the
// one before ended, a little longer or shorter.
func sticking(d *draft, gap, scatter float64) *draft {
	next, was, left := 0.0, 0.0, 0.0
	step := func() float64 { return gap * (1 + scatter*d.rng.NormFloat64()) }
	d.speed = func(d *draft, dir float64) float64 {
		if dir != was {
			was, left = dir, 0
			next = d.x + dir*step()
		}
		switch {
		case left > 0:
			left -= d.dt
			return 0.02
		case dir*(d.x-next) > 0:
			left = 0.12
			next = d.x + dir*step()
		}
		return 1.3
	}
	return d
}

// unhurried sweeps n times with twice the time that the way takes.
func unhurried(d *draft, n int) *draft {
	full := 2 * (d.hi - d.lo) / d.rate
	d.run(0, 1)
	for range n {
		d.run(12, full).run(0, 0.5).run(-12, full).run(0, 0.5)
	}
	return d
}

func turnCases() []drawnCase {
	return []drawnCase{
		{"a damaged tooth", func(s uint64) *draft { return geared(newDraft(s), 0.55, 0.12, 0.4, 0.02).sweeps(3) }, Motor, GearTurn},
		{"a tooth that all but stops it, five times on the way", func(s uint64) *draft { return unhurried(geared(newDraft(s), 0.8, 0.06, 0.08, 0.02), 2) }, Motor, GearTurn},
		{"a damaged tooth, one sweep, slow logger of ten bits", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.rate, d.noise = 0.04, 0.4, 0.006
			return geared(d, 0.5, 0.15, 0.4, 0.02).sweeps(1).counts()
		}, Motor, GearTurn},
		{"a damaged tooth, starts and stops on the way", func(s uint64) *draft {
			d := geared(newDraft(s), 0.3, 0.2, 0.4, 0.02)
			d.run(0, 1)
			for i := range 4 {
				d.run(12, 2+float64(i)/2).run(0, 0.5).run(12, 5).run(0, 0.5).run(-12, 3).run(0, 0.5).run(-12, 4).run(0, 0.5)
			}
			return d
		}, Motor, GearTurn},
		{"a damaged tooth, three times on the way", func(s uint64) *draft { return geared(newDraft(s), 1.03, 0.07, 0.4, 0.02).sweeps(3) }, Motor, GearTurn},
		{"a gear far off its centre", func(s uint64) *draft { return swung(newDraft(s), 0.6, 0.55).sweeps(3) }, Motor, GearTurn},
		{"healthy, a gear off its centre by 12 %", func(s uint64) *draft { return swung(newDraft(s), 0.6, 0.88).sweeps(3) }, NoFault, ""},
		{"healthy, a gear off its centre by 17 %", func(s uint64) *draft { return swung(newDraft(s), 0.4, 0.83).sweeps(3) }, NoFault, ""},
		{"a door that binds at two places", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if d.x > 1.4 && d.x < 1.8 || d.x > 2.6 && d.x < 3 {
					return 0.4
				}
				return 1
			}
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
		{"a door that binds at three places", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				for _, at := range []float64{1.3, 1.9, 3.4} {
					if math.Abs(d.x-at) < 0.05 {
						return 0.4
					}
				}
				return 1
			}
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
		{"dry friction, slip after slip", func(s uint64) *draft { return sticking(newDraft(s), 0.25, 0.15).sweeps(3) }, DoorMechanism, StickSlip},
	}
}

func TestGearTurn(t *testing.T) {
	t.Parallel()
	checkDrawn(t, turnCases(), GearTurn)
}

// What is told of the gear is what was drawn.
func TestGearTurnMeasures(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		got, _ := look(t, geared(newDraft(seed), 0.55, 0.2, 0.4, 0.02).sweeps(3))
		for _, f := range got.Findings {
			if f.Kind != GearTurn {
				continue
			}
			if v, _ := f.Measure("spacing"); math.Abs(v-0.55) > 0.005 {
				t.Errorf("seed %d: spacing %.3f V, drawn 0.55", seed, v)
			}
			if v, _ := f.Measure(slowestOverUsual); math.Abs(v-0.4) > 0.1 {
				t.Errorf("seed %d: slowest %.2f of the usual, drawn 0.4", seed, v)
			}
			if v, _ := f.Measure("places over the travel"); v != 6 { // and two next to the stops, left out
				t.Errorf("seed %d: %.0f places, drawn 6", seed, v)
			}
		}
	}
}

// A gear turns uncoupled as well; what leaves with the door is the door's.
func TestGearTurnFree(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		worn := func() *draft { return geared(newDraft(seed), 0.55, 0.15, 0.4, 0.02).sweeps(3) }
		coupled := examined(t, worn(), false)
		stays := Judge(coupled, examined(t, worn(), true)).Verdict
		if stays.Conclusion != Motor || stays.Probability < Judge(coupled).Verdict.Probability {
			t.Errorf("seed %d: a gear that shows uncoupled as well: %s %.2f", seed, stays.Conclusion, stays.Probability)
		}
		if gone := Judge(coupled, examined(t, newDraft(seed).sweeps(3), true)).Verdict; gone.Conclusion != DoorMechanism {
			t.Errorf("seed %d: a swing that leaves with the door: %s %.2f", seed, gone.Conclusion, gone.Probability)
		}
	}
}
