package analyze

import (
	"math"
	"strings"
	"testing"
)

// A trouble that lies where it lay, logged in another unit, is still there: in shares of the
// travel where both stops were seen, else by the sensor's supply as it is taken to be. At
// another place it is not, and nothing is proven gone by a supply that is only taken. (Drawn.)
func TestRepairInAnotherUnit(t *testing.T) {
	t.Parallel()
	part := func(seed uint64, from, to, scale float64) *Capture {
		d := newDraft(seed)
		d.speed = func(d *draft, _ float64) float64 {
			if d.x > from && d.x < to {
				return 0.5
			}
			return 1
		}
		d.read = func(d *draft) float64 { return scale * d.x }
		if d.noise *= scale; scale != 1 {
			d.unit = "%"
		}
		d.run(12, 0.5).run(0, 1)
		for range 4 {
			// Let go short of both stops.
			for d.x < 4.1 {
				d.run(12, d.dt)
			}
			d.run(0, 1)
			for d.x > 1 {
				d.run(-12, d.dt)
			}
			d.run(0, 1)
		}
		return examined(t, d, false)
	}
	before := part(1, 2, 2.6, 1)
	for _, c := range []struct {
		name     string
		from, to float64
		state    string
	}{{"at its place", 2, 2.6, "still there"}, {"elsewhere", 3, 3.6, "could not show"}, {"nowhere", 9, 9, "could not show"}} {
		r := ProveRepair([]*Capture{before}, []*Capture{part(2, c.from, c.to, 20)})
		if len(r.Findings) == 0 || r.Findings[0].State != c.state || r.Result == RepairProven || (r.Result == RepairNotProven) != (c.state == "still there") && len(r.New) == 0 {
			t.Errorf("%s: %s %s %+v", c.name, r.Result, r.Text, r.Findings)
		}
	}
}

// What is new after a repair is not proven sound by a sense that was turned over, and it is
// said besides that the leads may have been crossed. (Drawn.)
func TestRepairNewsOfTheOtherSense(t *testing.T) {
	t.Parallel()
	b := examined(t, binds(1, false), false)
	d := newDraft(2)
	d.read = func(d *draft) float64 {
		if d.x > 3.2 && d.x < 3.5 {
			return 0.01
		}
		return d.x
	}
	a := examined(t, d.sweeps(6), false)
	a.Sense = -a.Sense
	r := (Case{Before: []*Capture{b}, Now: []*Capture{a}}).Judge().Repair
	if r.Result != RepairNotProven || !strings.Contains(r.Text, string(DeadSpot)) || !strings.Contains(r.Text, "crossed at the repair") {
		t.Errorf("%s: %s", r.Result, r.Text)
	}
}

// A motor whose circuit opens stands anywhere: where it stood last is no end of the travel
// that a repair would have to mend. (Drawn.)
func TestOpenCircuitIsNoEndOfTravel(t *testing.T) {
	t.Parallel()
	capture := func(seed uint64, opens bool) *Capture {
		d := newDraft(seed)
		d.dt = 0.01
		var amps []float64
		ups, was := 0, 0.0
		open := func(dir float64) bool {
			if dir > 0 && was <= 0 {
				ups++
			}
			was = dir
			return opens && dir > 0 && d.x > []float64{3.7, 2.9, 3.65, 2.2}[ups%4]
		}
		dead := false
		d.block = func(_ *draft, dir float64) bool { dead = open(dir); return dead }
		d.read = func(d *draft) float64 {
			dir := math.Copysign(boolOf(d.volts != 0), d.volts)
			a := 0.06 * dir
			switch {
			case dir == 0 || dead:
				a = 0
			case d.x >= d.hi && dir > 0 || d.x <= d.lo && dir < 0:
				a = 0.25 * dir
			}
			amps = append(amps, a+0.002*d.rng.NormFloat64())
			return d.x
		}
		tr := d.sweeps(4).trace()
		tr.Current = beside("current", "A", amps)
		c, _ := lookAt(t, tr)
		return c
	}
	r := ProveRepair([]*Capture{capture(1, true)}, []*Capture{capture(2, false)})
	if len(r.Findings) == 0 || r.Findings[0].Finding != Broken {
		t.Fatalf("%s: %+v", r.Text, r.Findings)
	}
	for _, f := range r.Findings {
		if f.Finding == Jam {
			t.Errorf("a jam: %s", f.Text)
		}
	}
}

// The passes that would prove a repair are asked for in the unit that was logged.
func TestPassesAreAskedForInTheirUnit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		unit, want string
		volts      Interval
	}{{"V", "passes over 2.00 to 2.60 V", Interval{2, 2.6}}, {"%", "passes over 40 to 52 %", Interval{40, 52}}, {"counts", "passes over 400 to 520 counts", Interval{400, 520}}} {
		f := &Finding{Kind: DeadSpot, Seen: 2, Passes: 2, Volts: c.volts}
		if _, _, unit := seenBefore(&Capture{Unit: c.unit}, f); unit != c.want {
			t.Errorf("in %s: %q, expected %q", c.unit, unit, c.want)
		}
	}
}
