package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// Recordings that look like something they are not. (Drawn.)
func TestTakenForWhatItIs(t *testing.T) {
	t.Parallel()
	atOnce := func(seed uint64, read func(d *draft) float64) *draft {
		d := newDraft(seed)
		d.dt, d.read = 0.01, read
		return d
	}
	exact := func(tr *signal.Trace, at float32) *signal.Trace { // a converter that ends at 0
		for i, v := range tr.Feedback.Mean {
			if v < 0.03 {
				tr.Feedback.Mean[i] = at
			}
		}
		return tr
	}
	for _, c := range []struct {
		name       string
		tr         *signal.Trace
		conclusion Fault
		kind       Kind // "": none asked for
	}{
		{"dead spot that reads exactly 0", exact(atOnce(1, func(d *draft) float64 {
			if d.x > 2 && d.x < 2.15 {
				return 0
			}
			return d.x
		}).sweeps(3).trace(), 0), FeedbackSensor, DeadSpot},
		{"a reading held for a second, once", atOnce(2, func() func(d *draft) float64 {
			held := math.NaN()
			return func(d *draft) float64 {
				if d.t > 10 && d.t < 11.5 {
					if math.IsNaN(held) {
						held = d.x
					}
					return held
				}
				return d.x
			}
		}()).sweeps(4).trace(), NoFault, ""},
		{"one loss at a rail over a reversal", atOnce(3, func(d *draft) float64 {
			if d.t > 12.5 && d.t < 16 {
				return 0
			}
			return d.x
		}).sweeps(4).trace(), WiringControl, AtRail},
		{"ignition off at the end", atOnce(4, func() func(d *draft) float64 {
			off := math.Inf(1)
			return func(d *draft) float64 {
				if d.t > 27 && math.IsInf(off, 1) {
					off = d.t
				}
				if d.t > off {
					return d.x * math.Exp(-(d.t-off)/0.5)
				}
				return d.x
			}
		}()).sweeps(2).run(0, 3).trace(), NoFault, ""},
	} {
		got, err := Examine(c.tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		found := c.kind == ""
		for _, f := range got.Findings {
			found = found || f.Kind == c.kind
		}
		if v.Conclusion != c.conclusion || !found {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// What a drive does in rows that are missing nobody knows: a move ends with its last
// row. (Drawn.)
func TestMoveEndsWhereRowsGoMissing(t *testing.T) {
	t.Parallel()
	d := newDraft(6)
	d.dt = 0.01
	d.run(0, 1).run(12, 1.5).run(0, 60).run(-12, 1.5).run(0, 2)
	tr := withRows(d.trace(), func(i int) bool { return d.time[i] < 2.5 || d.time[i] > 62 })
	got, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if s := got.Moves[0].Duration(); math.Abs(s-1.5) > 0.05 {
		t.Errorf("the first move takes %.2f s, want 1.5", s)
	}
}

// Heat slows sweep by sweep; told is the loss against the first. (Drawn.)
func TestHeatingIsToldAgainstTheFirstSweep(t *testing.T) {
	t.Parallel()
	d := newDraft(7)
	d.speed = func(d *draft, _ float64) float64 { return 1 - 0.4*d.t/120 }
	got, err := Examine(d.sweeps(9).trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range got.Findings {
		if f.Kind == Heating {
			first, last := got.Sweeps[0], got.Sweeps[len(got.Sweeps)-1]
			want := 100 * (last.Rate/first.Rate - 1)
			if c, _ := f.Measure("change of speed, first to last sweep"); math.Abs(c-want) > 2 {
				t.Errorf("told %.1f %%, the sweeps' own rates fell by %.1f %%", c, want)
			}
			return
		}
	}
	t.Error("not found")
}

// An open feedback wire takes up hum and noise: that is no shaft that stands. (Drawn.)
func TestNoiseIsNoPosition(t *testing.T) {
	t.Parallel()
	d := newDraft(8)
	d.read = func(d *draft) float64 { return 2.5 + 0.6*math.Sin(2*math.Pi*50.3*d.t) }
	got, err := Examine(d.sweeps(3).trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	v := Judge(got).Verdict
	if len(got.Findings) == 0 || got.Findings[0].Form != readsNoise || v.Conclusion == Motor || v.Conclusion == NoFault || v.Conclusion == DoorMechanism {
		t.Error(say(got, v))
	}
}

// What holds a shaft that does not start shows in the current: a wire or a brush that
// is open draws none. (Drawn.)
func TestNoStartAtStallCurrent(t *testing.T) {
	t.Parallel()
	stand := duringAny([2]float64{8, 2.5}, [2]float64{20.5, 2})
	c := newCircuit(3, func(float64) bool { return false })
	c.block = func(d *draft, _ float64) bool { return stand(d.t) }
	c.read = func(d *draft) float64 {
		i := 0.0
		switch {
		case d.volts == 0:
		case stand(d.t), d.x == d.lo, d.x == d.hi:
			i = 0.6
		default:
			i = 0.15
		}
		c.current = append(c.current, i+0.003*d.rng.NormFloat64())
		return d.x
	}
	c.run(0, 1).run(12, 3).run(0, 4).run(12, 5.5).run(0, 1).run(-12, 3).run(0, 3).run(-12, 5).run(0, 1).run(12, 5.5).run(0, 0.5).run(-12, 6).run(0, 1)
	got, err := Examine(c.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range got.Findings {
		if f.Kind == Pauses && f.Form == "does not start" {
			if !f.has(heldAtStall) {
				t.Errorf("the current is not told: %s", f.Title)
			}
			return
		}
	}
	t.Error(say(got, Judge(got).Verdict))
}

// A shaft that came to a place and is pressed there again and again, a little further
// each time, is held; one that does not stir may be a motor that gave up. (Drawn.)
func TestTriesAtOnePlace(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		press float64 // V
		want  MeasureName
		kept  Fault
	}{
		{"pressed on", 0.03, pushesThere, DoorMechanism},
		{"does not stir", 0, oneStand, CannotTell},
	} {
		d := newDraft(9)
		d.dt, d.noise = 0.01, 0.003
		late := func() bool { return d.t > 14 }
		d.block = func(d *draft, dir float64) bool { return late() && dir > 0 && d.x >= 2 }
		d.read = func(d *draft) float64 {
			if late() && d.volts > 0 && d.x >= 2 {
				return d.x + c.press
			}
			return d.x
		}
		d.run(0, 1).run(12, 5.5).run(0, 0.5).run(-12, 6).run(0, 2)
		d.run(12, 2.0).run(0, 1) // let go as it stands
		for range 3 {
			d.run(12, 0.7).run(0, 1.5)
		}
		d.run(-12, 1).run(0, 1)
		got, err := Examine(d.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		told := false
		for _, f := range got.Findings {
			told = told || f.has(c.want)
		}
		if !told || v.Conclusion != c.kept {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
