package analyze

import (
	"fmt"
	"math"
	"slices"
)

// loadOf says what the load of the door does to a shaft of which nothing is odd by
// itself: how much slower it is than uncoupled, and how much more uneven. The actuator
// and the instrument are the same, so neither is theirs.
func loadOf(captures []*Capture) (out []aside) {
	if longerThanFree(captures) != "" {
		return nil
	}
	// What is found by itself is compared as such.
	for _, c := range captures {
		if slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.force() > math.Log(3) }) {
			return nil
		}
	}
	if a := unevenCoupled(captures); a != nil {
		out = append(out, *a)
	}
	if a := slowedByDoor(captures); a != nil {
		out = append(out, *a)
	}
	return out
}

// evenShaft is the share of its speed by which a shaft may swing and still run evenly,
// see findRatchet.
const evenShaft = 1.0 / 3

// unevenCoupled compares how evenly the shaft runs with the door and without.
func unevenCoupled(captures []*Capture) *aside {
	coupled, free := [2]float64{math.NaN(), math.NaN()}, [2]float64{math.NaN(), math.NaN()}
	for _, c := range captures {
		p := &coupled
		if c.Free {
			p = &free
		}
		for i, x := range c.ripple {
			if !(x < p[i]) { // the evenest coupled one, and the most uneven uncoupled one
				if c.Free || math.IsNaN(p[i]) {
					p[i] = x
				}
			} else if !c.Free {
				p[i] = x
			}
		}
	}
	for i := range coupled {
		// Twice the deviation is four times the power of the swing; the least is
		// what the gears of a good actuator do by themselves.
		if !(coupled[i] > evenShaft*0.9) || !(coupled[i] > 4*math.Max(free[i], 0.05)) {
			return nil
		}
	}
	a := newAside(FreeRun, shown{.004, .02, .04, .25, .02}, 0.9,
		fmt.Sprintf("With the door its speed swings by %.0f %% over small distances, uncoupled by %.0f %%.", 100*coupled[0], 100*free[0]),
		"a shaft that runs evenly by itself and in jerks with the door: the door sticks and slips")
	return &a
}

// heavyDoor is how many times slower than uncoupled a healthy door seldom makes its
// actuator, both ways: a good motor keeps two thirds of its speed on its door
// (common practice, no source).
const heavyDoor = 1.5

// slowedByDoor compares the speeds with the door and without, at the same drive.
func slowedByDoor(captures []*Capture) *aside {
	const alike = 1.3 // one way over the other: the two vouch for each other
	least, most := math.Inf(1), 0.0
	single := false // move of one direction
	for _, c := range captures {
		for _, x := range captures {
			if c.Free || !x.Free || c.Pulsed || x.Pulsed {
				continue
			}
			k, ok := levelScale(x, c)
			if !ok {
				return nil
			}
			for _, d := range []Direction{Down, Up} {
				a, na := c.pace(d)
				b, nb := x.pace(d)
				if na < 1 || nb < 1 {
					return nil
				}
				if na < 2 || nb < 2 {
					single = true
				}
				q := k * b / a
				// The speed goes with the volts above those that only turn it.
				if va, vb := c.fullDrive(), x.fullDrive(); c.driveKnown() && x.driveKnown() && va > 2*startVolts && vb > 2*startVolts {
					q *= (va - startVolts) / (vb - startVolts)
				}
				least, most = math.Min(least, q), math.Max(most, q)
			}
		}
	}
	if !(least >= heavyDoor) || math.IsInf(least, 0) || single && most > alike*least {
		return nil
	}
	// From one and a half to twice as slow it grows from a third to fully sure.
	strength := math.Min(1, 0.35+(least-heavyDoor)/(2-heavyDoor)*0.65)
	a := newAside(FreeRun, shown{.008, .015, .05, .2, .03}, strength,
		fmt.Sprintf("With the door it is %.1f to %.1f times slower than uncoupled, at the same drive.", least, most),
		"a good motor keeps two thirds of its speed on a good door. What leaves with the door is the door's, as a rule; a motor with little strength left turns its own gears slowly as well, and a supply through a bad contact sags under load")
	if most/least < 1.05 {
		a.text = fmt.Sprintf("With the door it is %.1f times slower than uncoupled both ways, at the same drive.", least)
	}
	return &a
}

// startVolts is the fifth of 12 V below which a loaded gear motor does not start, see
// acrossTravel.
const startVolts = 2.4

// pace is the usual speed of a capture in a direction at its full and steady drive, in the unit of its
// readings a second, and of how many moves.
func (c *Capture) pace(d Direction) (float64, int) {
	var r []float64
	for k := range c.Moves {
		if m := &c.Moves[k]; m.Direction == d && m.Moving > 0.5 && m.Rate > 0 && math.Abs(m.DriveMean) > fullyDriven*c.fullDrive() && m.Travel() > 0.15*c.Span.Width() {
			r = append(r, m.Rate)
		}
	}
	return medianOf(r), len(r)
}
