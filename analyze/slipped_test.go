package analyze

import (
	"math"
	"testing"
)

// slippedBy draws an actuator whose wiper slips by the given volts at each of the given
// moments.
func slippedBy(seed uint64, when []float64, by float64) *draft {
	d := newDraft(seed)
	d.read = func(d *draft) float64 {
		v := d.x
		for _, t := range when {
			if d.t > t {
				v += by
			}
		}
		return v
	}
	return d
}

// TestSlippedWiper draws wipers that slip on the shaft on their way and at a stop, and
// what only looks so.
func TestSlippedWiper(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			d    *draft
			want string // form; empty: none
			says Fault
		}{
			{"the way it is driven", slippedBy(seed, []float64{16}, 0.12).sweeps(3), leapGoesOn, FeedbackSensor},
			{"against the drive", slippedBy(seed, []float64{16}, -0.12).sweeps(3), leapGoesOn, FeedbackSensor},
			{"twice", slippedBy(seed, []float64{10, 22}, -0.12).sweeps(3), leapGoesOn, FeedbackSensor},
			{"too little to be told", slippedBy(seed, []float64{16}, 0.01).sweeps(3), "", NoFault},
			{"none", newDraft(seed).sweeps(3), "", NoFault},
			{"a place on the track that leaps", func() *draft {
				d := newDraft(seed)
				d.read = func(d *draft) float64 {
					if d.x > 2 {
						return math.Min(4.9, d.x+0.15)
					}
					return d.x
				}
				return d.sweeps(3)
			}(), "", -1},
			{"an obstacle from one moment on, and a contact before", func() *draft {
				d := newDraft(seed)
				d.read = func(d *draft) float64 {
					if d.t > 12 && d.t < 12.4 {
						return d.x - 0.3
					}
					return d.x
				}
				d.block = func(d *draft, dir float64) bool { return d.t > 14 && dir > 0 && d.x > 4.2 }
				return d.sweeps(3)
			}(), "", -1},
		} {
			r := judgedDraft(t, c.d)
			got := ""
			for _, f := range r.Captures[0].Findings {
				if f.Kind == LastingLeap {
					got = f.Form
				}
			}
			if got != c.want || c.says >= 0 && r.Verdict.Conclusion != c.says {
				t.Errorf("%s, seed %d: form %q, want %q; %s", c.name, seed, got, c.want, r.Verdict.Summary)
			}
		}
	}
}

// TestShiftedStops draws stops of which both read shifted alike, from one moment at
// which the reading is not seen, and what moves stops otherwise.
func TestShiftedStops(t *testing.T) {
	t.Parallel()
	// The step is spread over a second and a half of a way.
	slow := func(d *draft, f func(x float64) float64) *draft {
		d.read = func(d *draft) float64 {
			k := math.Max(0, math.Min(1, (d.t-16)/1.5))
			return d.x + k*f(d.x)
		}
		return d.sweeps(3)
	}
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			f    func(x float64) float64
			want bool
		}{
			{"alike", func(float64) float64 { return 0.2 }, true},
			{"a scale", func(x float64) float64 { return 0.06 * x }, false},
			{"a contact in the ground wire", func(x float64) float64 { return 0.06 * (5 - x) }, false},
			{"none", func(float64) float64 { return 0 }, false},
		} {
			r := judgedDraft(t, slow(newDraft(seed), c.f))
			got := false
			for _, f := range r.Captures[0].Findings {
				got = got || f.Kind == LastingLeap && f.Form == leapUnseen
			}
			if got != c.want {
				t.Errorf("%s, seed %d: found %v, want %v; %s", c.name, seed, got, c.want, r.Verdict.Summary)
			}
		}
	}
}

// TestSlippedWiperFar draws wipers that slip far, in two goes, out of the track or to and
// fro, and a contact in the ground that comes and goes.
func TestSlippedWiperFar(t *testing.T) {
	t.Parallel()
	// Up, where the shaft leaves the low stop, and down where it leaves the high one.
	toAndFro := func(shift func(x float64) float64) *draft {
		d := newDraft(1)
		d.read = func(d *draft) float64 {
			if d.t > 14.02 && d.t < 20.52 || d.t > 27.02 {
				return d.x + shift(d.x)
			}
			return d.x
		}
		return d.sweeps(3)
	}
	for _, c := range []struct {
		name string
		d    *draft
		want bool
	}{
		{"deep into the travel, below the rail", func() *draft {
			d := slippedBy(1, []float64{16}, 1.3)
			wiper := d.read
			d.read = func(d *draft) float64 { return math.Min(4.93, wiper(d)) }
			return d.sweeps(3)
		}(), true},
		{"in two goes", slippedBy(1, []float64{16, 16.2}, 0.3).sweeps(3), true},
		{"to and fro", toAndFro(func(float64) float64 { return -0.2 }), true},
		{"a ground that comes and goes", toAndFro(func(x float64) float64 { return 0.25 * (5 - x) / 5 }), false},
	} {
		r := judgedDraft(t, c.d)
		found := false
		for _, f := range r.Captures[0].Findings {
			found = found || f.Kind == LastingLeap && f.has(stopsMoved)
		}
		if found != c.want || c.want && r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("%s: found %v, want %v; %s", c.name, found, c.want, r.Verdict.Summary)
		}
	}
}

// TestSlippedWiperOffTrack draws wipers that slip so far that the track ends before the
// stop: it reads shifted by less, and waits as the shaft leaves. A door's stop that moved
// makes no wait, and neither does a stop that only one obstacle moved.
func TestSlippedWiperOffTrack(t *testing.T) {
	t.Parallel()
	cut := func(seed uint64, by, end float64) *draft {
		d := slippedBy(seed, []float64{16}, by)
		wiper := d.read
		d.read = func(d *draft) float64 { return math.Max(end, wiper(d)) }
		return d
	}
	noWait := func(seed uint64) *draft {
		// From one moment on the shaft stops short of one end, and the other reads shifted.
		d := slippedBy(seed, []float64{16}, -0.4)
		d.block = func(d *draft, dir float64) bool { return d.t > 16 && dir < 0 && d.x < 0.7 }
		return d
	}
	// Only one stop is met before and after the slip, and the track ends there at a rail.
	onlyStopTwice := func(seed uint64, by, end float64) *draft {
		d := slippedBy(seed, []float64{9}, by)
		wiper := d.read
		d.read = func(d *draft) float64 { return math.Max(end, wiper(d)) }
		d.x = 2.5
		return d.run(0, 1).run(-12, 4).run(0, 0.5).run(12, 5.5).run(0, 0.5).run(-12, 6.5).run(0, 0.5).run(12, 3)
	}
	// The last moments of a stall are those of the leap, which stays or goes with the drive.
	lettingGo := func(seed uint64, stays bool) *draft {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if stays && d.t > 13.96 || !stays && d.volts < 0 && d.x <= d.lo {
				return d.x - 0.25
			}
			return d.x
		}
		return d.run(0, 1).run(-12, 1).run(12, 6).run(0, 0.5).run(-12, 5.5).run(0, 0.5).run(12, 6).run(0, 0.5).run(-12, 3)
	}
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			d    *draft
			want bool
		}{
			{"the track ends", cut(seed, -0.4, 0.25).sweeps(3), true},
			{"it ends at the supply", onlyStopTwice(seed, -0.55, 0.05), true},
			{"at the jolt of letting go", lettingGo(seed, true), true},
			{"an obstacle as well", noWait(seed).sweeps(3), false},
			{"a ground that moves while the motor is held", lettingGo(seed, false), false},
		} {
			r := judgedDraft(t, c.d)
			got := finding(r.Captures[0], LastingLeap)
			if found := got != nil && got.has(stopsMoved); found != c.want || c.want && r.Verdict.Conclusion != FeedbackSensor {
				t.Errorf("%s, seed %d: %v, want %v: %s", c.name, seed, found, c.want, r.Verdict.Summary)
			}
		}
	}
}

// TestManySlips draws a wiper that slips oftener than a contact is believed to, and a
// contact whose leaps the stops do not follow.
func TestManySlips(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		many := slippedBy(seed, []float64{10, 16, 22, 28, 34}, 0.15)
		many.hi = 3.5
		r := judgedDraft(t, many.sweeps(5))
		if f := finding(r.Captures[0], LastingLeap); f == nil || !f.has(stopsMoved) || r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: no slips in %s", seed, r.Verdict.Summary)
		}
		contact := newDraft(seed)
		contact.hi = 3.5
		contact.read = func(d *draft) float64 { // back by the time that a stop is met
			if d.x > 1 && d.x < 3 {
				return d.x + 0.15*math.Floor(d.t/7)
			}
			return d.x
		}
		r = judgedDraft(t, contact.sweeps(5))
		if f := finding(r.Captures[0], LastingLeap); f != nil && f.has(stopsMoved) {
			t.Errorf("seed %d: slips where no stop follows: %s", seed, r.Verdict.Summary)
		}
	}
}

// TestShiftedStopUnvisited draws stops shifted alike of which one was met after the shift
// only, and before it the shaft lay beyond; and obstacles that do not shift one travel.
func TestShiftedStopUnvisited(t *testing.T) {
	t.Parallel()
	// To the low stop, nearly to the high one, half the way back, and on to both.
	runs := func(d *draft) *draft {
		d.lo, d.x = 0.9, 2.5
		d.run(0, 1).run(-12, 4).run(0, 0.5).run(12, 4.47).run(0, 0.5).run(-12, 2.5).run(0, 0.5)
		for range 3 {
			d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
		}
		return d
	}
	// The shift is spread over a second of the way back.
	slid := func(d *draft) float64 { return -0.4 * math.Max(0, math.Min(1, d.t-12)) }
	for seed := range uint64(3) {
		for _, c := range []struct {
			name  string
			read  func(d *draft) float64
			block func(d *draft, dir float64) bool
			want  bool
		}{
			{"shifted", func(d *draft) float64 { return d.x + slid(d) }, nil, true},
			{"one obstacle went and another fell in", nil, func(d *draft, dir float64) bool {
				return dir < 0 && d.t < 12 && d.x < 1.3 || dir > 0 && d.t > 12 && d.x > 3.8
			}, false},
			{"sound", nil, nil, false},
		} {
			d := newDraft(seed)
			d.read, d.block = c.read, c.block
			r := judgedDraft(t, runs(d))
			got := finding(r.Captures[0], LastingLeap)
			if found := got != nil && got.Form == leapUnseen; found != c.want || c.want && r.Verdict.Conclusion != FeedbackSensor {
				t.Errorf("%s, seed %d: %v, want %v: %s", c.name, seed, found, c.want, r.Verdict.Summary)
			}
		}
	}
}

// TestObstacleWhereItLay draws an object that falls in on the way to one stop, as far from it as
// the shaft lay from the other one before it was first driven there: it may lie anywhere.
func TestObstacleWhereItLay(t *testing.T) {
	t.Parallel()
	const by = 0.5
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.x = d.hi - by
		d.block = func(d *draft, dir float64) bool { return dir < 0 && d.t > 12 && d.x < d.lo+by }
		d.run(0, 1)
		for range 4 {
			d.run(-12, 6).run(0, 0.5).run(12, 6).run(0, 0.5)
		}
		r := judgedDraft(t, d)
		if f := finding(r.Captures[0], LastingLeap); f != nil || r.Verdict.Conclusion != DoorMechanism {
			t.Errorf("seed %d: %s", seed, say(r.Captures[0], r.Verdict))
		}
	}
}
