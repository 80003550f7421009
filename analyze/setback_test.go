package analyze

import "testing"

// slippingAt makes the shaft of a draft fall back by size at a level, a few times in each
// pass upward.
func slippingAt(d *draft, level, size float64, times int) {
	left := times
	d.speed = func(d *draft, dir float64) float64 {
		switch {
		case d.x < level-3*size:
			left = times
		case dir > 0 && d.x >= level && d.x < level+size && left > 0:
			left--
			d.x -= size
		}
		return 1
	}
}

// slips counts the findings of gears that slip.
func slips(c *Capture) int {
	n := 0
	for i := range c.Findings {
		if c.Findings[i].Kind == GearSlip {
			n++
		}
	}
	return n
}

func TestSetbacksBelowTheScatterOfRows(t *testing.T) {
	d := newDraft(3)
	d.noise, d.rate = 0.02, 0.4
	slippingAt(d, 2.6, 0.125, 3)
	if c := examined(t, d.sweeps(2), false); slips(c) != 1 {
		t.Errorf("teeth let go on the way, not found: %v", c.Findings)
	}
}

func TestNoSetbackIsATrackBentBack(t *testing.T) {
	// The reading falls back at one place in each pass, either way, and is on its line again.
	d := newDraft(4)
	d.noise = 0.02
	d.read = func(d *draft) float64 {
		if d.x > 2.2 && d.x < 2.6 {
			return d.x + 0.13*(1-(d.x-2.2)/0.2)
		}
		return d.x
	}
	if c := examined(t, d.sweeps(3), false); slips(c) != 0 {
		t.Errorf("a bent track was called slipping gears: %v", c.Findings)
	}
}

func TestNoSetbackIsAGroundThatSteps(t *testing.T) {
	// Another load comes and goes by the clock, and shifts the reading.
	d := newDraft(5)
	d.noise = 0.02
	d.read = func(d *draft) float64 {
		if int(d.t/0.9)%2 == 0 {
			return d.x + 0.13
		}
		return d.x
	}
	if c := examined(t, d.sweeps(3), false); slips(c) != 0 {
		t.Errorf("a reading that steps both ways was called slipping gears: %v", c.Findings)
	}
}

func TestTeethOfFewRowsAtAStop(t *testing.T) {
	// At 25 rows a second a tooth of 0.1 V takes six of them.
	for _, slipping := range []bool{true, false} {
		d := newDraft(6)
		d.dt, d.noise, d.rate = 0.04, 0.003, 0.45
		if slipping {
			d.hi = 4.6
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x >= 4.55 {
					d.x -= 0.11
				}
				return 1
			}
		}
		d.run(0, 1).run(12, 40).run(0, 1).run(-12, 4).run(0, 1).run(12, 30).run(0, 1).run(-12, 10).run(0, 1)
		if got := slips(examined(t, d, false)); got != map[bool]int{true: 1, false: 0}[slipping] {
			t.Errorf("slipping %v: %d findings of it", slipping, got)
		}
	}
}

// A fast shaft has climbed most of a tooth again a few rows later.
func TestSetbacksOfAFastShaft(t *testing.T) {
	for _, slipping := range []bool{true, false} {
		d := newDraft(8)
		d.dt, d.noise, d.rate = 0.005, 0.015, 1.5
		if slipping {
			slippingAt(d, 2.6, 0.125, 3)
		}
		if c := examined(t, d.sweeps(4), false); slips(c) != map[bool]int{true: 1}[slipping] {
			t.Errorf("slipping %v: %v", slipping, c.Findings)
		}
	}
}
