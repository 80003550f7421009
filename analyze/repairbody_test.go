package analyze

import (
	"math"
	"testing"
)

// By hand: after n of n the chance that what shows in some passes only is 1/(n+2), and that
// the next k miss it then is that of the rule of succession.
func TestBodyMissed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seen, passes, n int
		want            float64
	}{
		{3, 3, 0, 1},
		{3, 3, 1, 1. / 5 * 1 / 5},
		{1, 1, 1, 1. / 3 * 1 / 3},
		{2, 2, 2, 1. / 4 * (1. / 4 * 2 / 5)},
		{2, 3, 1, 2. / 5}, // once it did not show: only one story is left
	} {
		if got := bodyMissed(c.seen, c.passes, c.n); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("bodyMissed(%d, %d, %d) = %v, expected %v", c.seen, c.passes, c.n, got, c.want)
		}
	}
	for passes := 1; passes <= 8; passes++ {
		n := bodyPassesFor(passes, passes, 0.05)
		if bodyMissed(passes, passes, n) > 0.05 || bodyMissed(passes, passes, n-1) <= 0.05 {
			t.Errorf("bodyPassesFor(%d) = %d", passes, n)
		}
	}
}

// What stopped each of several drives and is driven past once, from whichever side, is
// gone; what stopped a single one may have been anything. (Drawn.)
func TestRepairOfAJamDrivenPastOnce(t *testing.T) {
	t.Parallel()
	jam := func(tries int) *draft {
		d := newDraft(1)
		d.x = 3
		d.block = func(d *draft, dir float64) bool { return dir < 0 && d.x <= 2.2 }
		d.run(0, 1).run(12, 4)
		for range tries {
			d.run(-12, 5).run(0, 0.5)
			if tries > 1 {
				d.run(12, 4)
			}
		}
		return d
	}
	again := func(d *draft) *draft { // tried again at the place
		for range 3 {
			d.run(-12, 2).run(0, 1.5)
		}
		return d
	}
	for _, c := range []struct {
		name          string
		before, after *draft
		want          RepairResult
	}{
		{"from beyond", again(jam(2)), func() *draft { d := newDraft(2); d.x = 0.9; return d.run(0, 1).run(-12, 2).run(12, 7).run(0, 2) }(), RepairProven},
		{"not so far", again(jam(2)), func() *draft { d := newDraft(2); d.x = 3; return d.run(0, 1).run(12, 3).run(-12, 1.5).run(0, 2) }(), RepairUnclear},
		{"stopped once", jam(1), func() *draft { d := newDraft(2); d.x = 0.9; return d.run(0, 1).run(-12, 2).run(12, 7).run(0, 2) }(), RepairUnclear},
	} {
		if r := prove(t, c.before, c.after); r.Result != c.want {
			t.Errorf("%s: %s: %s %+v", c.name, r.Result, r.Text, r.Findings)
		}
	}
}

// Teeth that let go three times in one pass of three show in one of three. (Drawn.)
func TestRepairCountsPassesOfTeeth(t *testing.T) {
	t.Parallel()
	d := newDraft(3)
	pass, left, was := 0, 0, 0.0
	d.speed = func(d *draft, dir float64) float64 {
		if dir > 0 && was <= 0 {
			pass++
			if pass == 2 {
				left = 3
			}
		}
		was = dir
		if dir > 0 && left > 0 && d.x > 3 {
			left--
			return -0.3 / (d.rate * d.dt)
		}
		return 1
	}
	b := examineWith(t, d.sweeps(3), nil, false)
	f := finding(b, GearSlip)
	if f == nil {
		t.Fatal("no gear slip")
	}
	if seen, of, _ := seenBefore(b, f); seen != 1 || of != 3 {
		t.Errorf("%d of %d, expected 1 of 3", seen, of)
	}
	if r := ProveRepair([]*Capture{b}, []*Capture{examineWith(t, newDraft(4).sweeps(3), nil, false)}); r.Result != RepairUnclear {
		t.Errorf("%s: %s", r.Result, r.Text)
	}
}

// A speed for a volt of drive is not one for a polarity: they make no strangers. (Drawn.)
func TestRepairOfSignAndVolts(t *testing.T) {
	t.Parallel()
	sign := newDraft(5)
	sign.signOnly = true
	b, a := examineWith(t, sign.sweeps(3), nil, false), examineWith(t, newDraft(6).sweeps(3), nil, false)
	if why := strangers([]*Capture{b}, []*Capture{a}); why != "" {
		t.Error(why)
	}
	slow := newDraft(6)
	slow.rate = 0.25
	if strangers([]*Capture{a}, []*Capture{examineWith(t, slow.sweeps(3), nil, false)}) == "" {
		t.Error("a third of the speed at the same volts is of one kind")
	}
}

// Drives during which the reading lay at a rail say nothing of their own: with the rail
// gone they are. (Drawn.)
func TestRepairOfDrivesUnread(t *testing.T) {
	t.Parallel()
	d := newDraft(7)
	d.x = 3
	lost := 8.0
	d.read = func(d *draft) float64 {
		if d.t > lost {
			return 0.02
		}
		return d.x
	}
	d.run(0, 1).run(-12, 12).run(12, 8).run(0, 1).run(12, 8).run(0, 1)
	r := prove(t, d, newDraft(8).sweeps(3))
	if r.Result != RepairProven {
		t.Errorf("%s: %s %+v", r.Result, r.Text, r.Findings)
	}
}
