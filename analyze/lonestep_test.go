package analyze

import (
	"math"
	"testing"
)

// onceUpAndBack drives from the low side up and most of the way back, to no stop twice.
func onceUpAndBack(d *draft) *draft {
	d.x = 0.9
	return d.run(0, 1).run(12, 3.5).run(0, 0.4).run(-12, 3.2).run(0, 0.5)
}

// TestLoneStep draws a wiper that slips once, with no stop to tell by, and what leaps
// for another reason or is a place.
func TestLoneStep(t *testing.T) {
	t.Parallel()
	shifted := func(seed uint64, rise float64) *draft {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			return d.x + 0.3*math.Max(0, math.Min(1, (d.t-3)/rise))
		}
		return onceUpAndBack(d)
	}
	place := func(read func(x float64) float64) *draft {
		d := newDraft(1)
		d.read = func(d *draft) float64 { return read(d.x) }
		return onceUpAndBack(d)
	}
	for _, c := range []struct {
		name string
		d    *draft
		want bool
	}{
		{"slips", shifted(1, 0.001), true},
		{"slips, other noise", shifted(2, 0.001), true},
		{"flung by a spring over half a second", shifted(1, 0.5), false},
		{"a step of the track", place(func(x float64) float64 {
			if x > 2.5 {
				return x + 0.3
			}
			return x
		}), false},
		{"a track that holds and leaps", place(func(x float64) float64 {
			if x > 2.2 && x < 2.5 {
				return 2.2
			}
			return x
		}), false},
	} {
		r := judgedDraft(t, c.d)
		found := false
		for _, f := range r.Captures[0].Findings {
			found = found || f.has(readSince)
		}
		if found != c.want || c.want && r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("%s: found %v, want %v; %v, %s", c.name, found, c.want, r.Verdict.Conclusion, r.Verdict.Summary)
		}
	}
}

// TestSlippedBehindFilter draws a wiper that slips, logged in slow rows behind a filter:
// the reading creeps to its new line, and the stops tell all of the step.
func TestSlippedBehindFilter(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt = 0.045
		seen := d.x
		d.read = func(d *draft) float64 {
			v := d.x
			if d.t > 16.02 {
				v += 0.35
			}
			seen += (v - seen) * (1 - math.Exp(-1)) // of one time constant a row
			return seen
		}
		r := judgedDraft(t, d.sweeps(3))
		found := false
		for _, f := range r.Captures[0].Findings {
			found = found || f.has(stopsMoved)
		}
		if !found || r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: found %v; %v, %s", seed, found, r.Verdict.Conclusion, r.Verdict.Summary)
		}
	}
}
