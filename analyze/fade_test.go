package analyze

import (
	"math"
	"testing"
)

// fading gives a heating of few sweeps.
func fading(c *Capture) *Finding {
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Kind == Heating && f.Form == inFewSweeps {
			return f
		}
	}
	return nil
}

// Three sweeps are too few for a trend, and a motor that has lost half of its speed by the
// third is none that is sound.
func TestMotorHeatsInThreeSweeps(t *testing.T) {
	t.Parallel()
	d := newDraft(31)
	d.speed = func(d *draft, dir float64) float64 { return 0.4 + 0.6*math.Exp(-d.t/8) }
	d.run(0, 1).run(12, 8).run(0, 0.5).run(-12, 11).run(0, 0.5).run(12, 13).run(0, 0.5)
	c, v := look(t, d)
	if fading(c) == nil || v.Conclusion != Motor {
		t.Errorf("%s", say(c, v))
	}
}

// As warm as it gets after the first sweeps, it goes on at an even pace.
func TestMotorWarmAfterTheFirstSweeps(t *testing.T) {
	t.Parallel()
	d := newDraft(32)
	d.speed = func(d *draft, dir float64) float64 { return 1 + 1.5*math.Exp(-d.t/5) }
	d.sweeps(8)
	c, v := look(t, d)
	if fading(c) == nil || v.Conclusion != Motor {
		t.Errorf("%s", say(c, v))
	}
}

// What gets slower without a fault of the motor.
func TestFewSweepsThatDoNotFade(t *testing.T) {
	t.Parallel()
	for name, speed := range map[string]func(d *draft, dir float64) float64{
		"a slow band that comes": func(d *draft, dir float64) float64 {
			if d.t > 10 && d.x > 1.5 && d.x < 2.2 {
				return 0.4
			}
			return 1
		},
		"a step after passes that were alike": func(d *draft, dir float64) float64 {
			if d.t > 26 {
				return 0.6
			}
			return 1
		},
		"grease that warms": func(d *draft, dir float64) float64 { return 1 - 0.4*math.Exp(-d.t/8) },
		"the door's weight": func(d *draft, dir float64) float64 { return 1 + 0.2*dir },
	} {
		d := newDraft(33)
		d.speed = speed
		full := (d.hi-d.lo)/d.rate*1.6 + 1
		d.run(0, 1)
		for range 3 {
			d.run(12, full).run(0, 0.5).run(-12, full).run(0, 0.5)
		}
		if c, _ := look(t, d); fading(c) != nil {
			t.Errorf("%s: said to fade", name)
		}
	}
}

// Lost between the first pass and the second, and nothing of it within the first, it is a
// step: a control that drives at less from then on. Heat comes within the passes, or goes on
// coming.
func TestStepOrHeat(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		f    fade
		step bool
	}{
		{"a step", fade{loss: []float64{0, -0.34, -0.33, -0.35}, within: 0.01}, true},
		{"heat that comes within the first pass", fade{loss: []float64{0, -0.34, -0.36, -0.35}, within: 0.2}, false},
		{"heat that goes on coming", fade{loss: []float64{0, -0.15, -0.28, -0.35}, within: 0.03}, false},
		{"two passes only", fade{loss: []float64{0, -0.35}}, false},
	} {
		if c.f.steps() != c.step {
			t.Errorf("%s: step %v", c.name, !c.step)
		}
	}
}
