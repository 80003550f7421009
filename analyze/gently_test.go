package analyze

import "testing"

// gentle draws a control that starts each drive at 6 V, raises it within a tenth of a
// second, and presses the stops with 6 V; it lowers the drive so before targets on the way
// as well where it ends gently.
func gentle(seed uint64, endsSo bool) *draft {
	d := newDraft(seed)
	d.dt = 0.004
	to := func(x float64, stop bool) {
		dir := 1.0
		if x < d.x {
			dir = -1
		}
		d.run(6*dir, 0.04).run(8*dir, 0.04)
		for d.x*dir < x*dir-0.06*boolOf(endsSo || stop) {
			d.run(10*dir, d.dt)
		}
		if endsSo || stop {
			d.run(8*dir, 0.04).run(6*dir, 0.1)
		}
		if stop {
			d.run(6*dir, 0.8)
		}
		d.run(0, 1)
	}
	d.run(0, 1)
	for range 2 {
		to(4.5, true)
		to(2.6, false)
		to(1.6, false)
		to(0.5, true)
		to(1.9, false)
		to(3.1, false)
	}
	return d
}

// What the motor gets at starts and at stops, and less than under way, tells of its feed;
// but not where it gets as little before targets on the way, where nothing loads it.
func TestEndsGently(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		if got, v := look(t, gentle(seed, true)); finding(got, SupplySag) != nil || v.Conclusion != NoFault {
			t.Errorf("seed %d, gently: %s", seed, say(got, v))
		}
		if got, v := look(t, gentle(seed, false)); finding(got, SupplySag) == nil {
			t.Errorf("seed %d, at starts and stops alone: %s", seed, say(got, v))
		}
	}
}

// A control that slows down to 4.8 V over most of each way is no low supply where it gives
// 10 V for the rest of it; one that gives 4.8 V all the way has no more.
func TestSlowedIsNotLow(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		full float64 // V
		low  bool
	}{{10, false}, {4.8, true}} {
		d := newDraft(3)
		d.run(0, 1)
		for range 3 {
			for _, dir := range []float64{1, -1} {
				d.run(dir*c.full, 1.5).run(dir*4.8, 6).run(0, 1)
			}
		}
		got, v := look(t, d)
		if f := finding(got, SupplySag); (f != nil) != c.low {
			t.Errorf("%v V at first: %s", c.full, say(got, v))
		}
	}
}
