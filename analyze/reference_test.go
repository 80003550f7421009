package analyze

import (
	"math"
	"strings"
	"testing"

	"threewire/signal"
)

// fed draws a capture with a channel for the sensor's reference, which the reading
// is a share of.
func fed(t *testing.T, d *draft, level func(t float64) float64) *Capture {
	t.Helper()
	tr := d.trace()
	ref := make([]float32, tr.Len())
	for i, x := range tr.Time {
		ref[i] = float32(level(x) + 0.002*d.rng.NormFloat64())
		tr.Feedback.Mean[i] *= ref[i] / 5
	}
	tr.Reference = &signal.Series{Name: "reference", Unit: "V", Mean: ref, Min: ref, Max: ref}
	c, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A supply that is lost for most of a capture was what it was before, not what is
// left of it.
func TestReferenceLostForMostOfACapture(t *testing.T) {
	t.Parallel()
	drop := func(from, to, low, high float64) func(float64) float64 {
		return func(t float64) float64 {
			if t >= from && t < to {
				return low
			}
			return high
		}
	}
	for _, c := range []struct {
		name             string
		level            func(float64) float64
		usual, from, off float64
		form             string
	}{
		{"5 V fall to 3", drop(10, 99, 3, 5), 5, 10, 40, fromThenOn},
		{"5 V were away in the midst", drop(5, 36, 3, 5), 5, 5, 40, ""},
		{"3.3 V fall to 2", drop(10, 99, 2, 3.3), 3.3, 10, 100 * 1.3 / 3.3, fromThenOn},
		{"5 V touch the battery's for most of it", drop(10, 99, 12.6, 5), 5, 10, 152, fromThenOn},
		{"8 V for a moment at 9", drop(10, 11, 9, 8), 8, 10, 12.5, ""},
	} {
		got := fed(t, newDraft(1).sweeps(3), c.level)
		f := finding(got, RefLoss)
		if f == nil || f.Form != c.form || math.Abs(got.Reference-c.usual) > 0.01*c.usual || math.Abs(f.Time.From-c.from) > 0.1 {
			t.Errorf("%s: supply %.2f, %+v", c.name, got.Reference, f)
			continue
		}
		if off, _ := f.Measure("largest deviation"); math.Abs(off-c.off) > 1.5 {
			t.Errorf("%s: off by %.1f %%, expected %.1f", c.name, off, c.off)
		}
	}
}

// What the supply was is what the repaired sensor gets again: it reads no more
// than that.
func TestRepairOfALostReference(t *testing.T) {
	t.Parallel()
	lost := func(t float64) float64 {
		if t > 10 {
			return 3
		}
		return 5
	}
	steady := func(level float64) func(float64) float64 { return func(float64) float64 { return level } }
	good := fed(t, newDraft(11).sweeps(3), steady(5))
	for _, c := range []struct {
		name   string
		before *Capture
	}{
		{"from 10 s on", fed(t, newDraft(1).sweeps(3), lost)},
		{"low throughout", fed(t, newDraft(1).sweeps(3), steady(3.8))},
		{"absent throughout", fed(t, newDraft(1).sweeps(3), steady(0.02))},
	} {
		r := ProveRepair([]*Capture{c.before}, []*Capture{good})
		if r.Result != RepairProven || !strings.Contains(r.Text, string(RefLoss)) {
			t.Errorf("%s: %s: %s\n%+v", c.name, r.Result, r.Text, r.Findings)
		}
		if r := ProveRepair([]*Capture{c.before}, []*Capture{c.before}); r.Result != RepairNotProven {
			t.Errorf("%s, unrepaired: %s: %s", c.name, r.Result, r.Text)
		}
	}
}

// What sinks slowly does not show in a few seconds.
func TestRepairOfASinkingReference(t *testing.T) {
	t.Parallel()
	before := fed(t, newDraft(1).sweeps(3), func(t float64) float64 { return 5 - 0.012*t })
	steady := func(float64) float64 { return 5 }
	long, short := fed(t, newDraft(2).sweeps(3), steady), fed(t, newDraft(2).run(0, 1).run(12, 4).run(-12, 4), steady)
	if r := ProveRepair([]*Capture{before}, []*Capture{long}); r.Result != RepairProven {
		t.Errorf("%s: %s", r.Result, r.Text)
	}
	if r := ProveRepair([]*Capture{before}, []*Capture{short}); r.Result != RepairUnclear || !strings.Contains(strings.Join(r.Missing, " "), "record longer") {
		t.Errorf("%s: %s %q", r.Result, r.Text, r.Missing)
	}
}
