package analyze

import (
	"math"
	"strings"
	"testing"

	"threewire/signal"
)

// What is there from drive to drive is gone when as many drives as it takes go by
// without it; how long they were recorded does not matter. By the rule of
// succession six of six before and none of six after have a chance of
// 6!*7!/13! = 0.06 %.
func TestRepairOfWhatLasts(t *testing.T) {
	t.Parallel()
	at := func(from, level float64) func(uint64) *draft {
		return func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t >= from {
					return level
				}
				return d.x
			}
			return d.sweeps(3)
		}
	}
	dead := func(drives int) func(uint64) *draft {
		return func(s uint64) *draft {
			d := newDraft(s)
			d.x = 2.5
			d.block = func(*draft, float64) bool { return true }
			d.run(0, 1)
			for range drives / 2 {
				d.run(12, 4).run(0, 0.5).run(-12, 4).run(0, 0.5)
			}
			return d
		}
	}
	healthy := func(n int) func(uint64) *draft {
		return func(s uint64) *draft { return newDraft(s).sweeps(n) }
	}
	for _, c := range []struct {
		name          string
		before, after func(uint64) *draft
		want          RepairResult
		seen, of      int
	}{
		{"at the upper rail throughout", at(0, 4.99), healthy(3), RepairProven, 6, 6},
		{"at the lower rail throughout", at(0, 0.01), healthy(3), RepairProven, 6, 6},
		{"at the rail throughout, one sweep after", at(0, 4.99), func(s uint64) *draft { return newDraft(s).run(0, 1).run(12, 6) }, RepairUnclear, 6, 6},
		{"at the rail from the second drive on", at(8, 4.99), healthy(3), RepairProven, 5, 6},
		{"no motion in twenty drives, four after", dead(20), healthy(2), RepairProven, 20, 20},
		{"no motion in six drives", dead(6), healthy(3), RepairProven, 6, 6},
	} {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(2) {
				r := prove(t, c.before(seed), c.after(seed+10))
				if r.Result != c.want || r.Findings[0].Seen != c.seen || r.Findings[0].Of != c.of {
					t.Errorf("seed %d: %s: %s\n%+v", seed, r.Result, r.Text, r.Findings)
				}
			}
		})
	}
}

// A shaft that stands where the reading looked like one at a rail stands still
// when it stands elsewhere.
func TestRepairOfAStandNextToARail(t *testing.T) {
	t.Parallel()
	stands := func(seed uint64, at float64) *draft {
		d := newDraft(seed)
		d.x = at
		d.block = func(*draft, float64) bool { return true }
		return d.sweeps(4)
	}
	if r := prove(t, stands(1, 4.95), stands(2, 2.5)); r.Result != RepairNotProven || r.Findings[0].Finding != AtRail {
		t.Errorf("%s: %s\n%+v", r.Result, r.Text, r.Findings)
	}
}

// A contact in the motor's supply that gives way in each drive is gone after a few
// drives without; where the supply is not logged nothing says so.
func TestRepairOfTheSupply(t *testing.T) {
	t.Parallel()
	capture := func(seed uint64, loss float64, logged bool) *Capture {
		d := newDraft(seed).sweeps(3)
		tr := d.trace()
		if logged {
			v := make([]float32, tr.Len())
			for i := range v {
				v[i] = float32(12.6 + 0.01*d.rng.NormFloat64())
				if math.Abs(d.drive[i]) > 1 {
					v[i] -= float32(loss)
				}
			}
			tr.Supply = &signal.Series{Name: "supply", Unit: "V", Mean: v, Min: v, Max: v}
		}
		c, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	b := capture(1, 3, true)
	if r := ProveRepair([]*Capture{b}, []*Capture{capture(2, 0.2, true)}); r.Result != RepairProven || r.Findings[0].Finding != SupplySag || r.Findings[0].Of != 6 {
		t.Errorf("%s: %s\n%+v", r.Result, r.Text, r.Findings)
	}
	if r := ProveRepair([]*Capture{b}, []*Capture{capture(2, 0, false)}); r.Result != RepairUnclear || !strings.Contains(strings.Join(r.Missing, " "), "supply was not logged") {
		t.Errorf("%s: %s\n%q", r.Result, r.Text, r.Missing)
	}
}
