package analyze

import (
	"strings"
	"testing"
)

// What runs faster than the other side by more than two doors differ, or further and faster
// at once, or slow one way only; and what is only a little off, or a sensor's scale. (Drawn.)
func TestSidesBySpeed(t *testing.T) {
	t.Parallel()
	good := examineWith(t, newDraft(1).sweeps(3), nil, false)
	with := func(change func(d *draft)) *draft {
		d := newDraft(2)
		change(d)
		return d.sweeps(3)
	}
	oneWay := func(k float64) func(d *draft) {
		return func(d *draft) {
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 {
					return k
				}
				return 1
			}
		}
	}
	far := func(d *draft) *Report {
		return Case{Now: []*Capture{examineWith(t, d, nil, false)}, Good: []*Capture{good}}.Judge()
	}
	for _, c := range []struct {
		name   string
		bad    *draft
		wants  []Fault // likelier than no fault; none: no fault
		says   string
		silent string
	}{
		{"much faster", with(func(d *draft) { d.rate = 1.12 }), []Fault{DoorMechanism}, "140 % of the good side's speed", ""},
		{"a little faster", with(func(d *draft) { d.rate = 0.9 }), nil, "are like", ""},
		{"further and faster", with(func(d *draft) { d.lo, d.hi, d.rate = 0.2, 4.95, 1.35 }), []Fault{DoorMechanism}, "of its time", ""},
		{"half as fast", with(func(d *draft) { d.rate = 0.45 }), []Fault{Motor, DoorMechanism}, "of the good side's speed", ""},
		{"slow one way", with(oneWay(0.55)), []Fault{Motor}, "Going up it runs at", ""},
		{"a little uneven", with(oneWay(0.85)), nil, "", "Going up"},
		{"larger scale", with(func(d *draft) { d.read = func(d *draft) float64 { return 0.3 + 1.16*(d.x-0.5) } }), nil, "of its time", ""},
	} {
		r := far(c.bad)
		for _, f := range c.wants {
			if !(chanceOf(r, f) > chanceOf(r, NoFault)) {
				t.Errorf("%s: %s %.2f, no fault %.2f: %s", c.name, f, chanceOf(r, f), chanceOf(r, NoFault), r.Sides.Text)
			}
		}
		if c.wants == nil && (r.Verdict.Conclusion > NoFault || chanceOf(r, DoorMechanism) > 0.3) {
			t.Errorf("%s: %s, door %.2f: %s", c.name, r.Verdict.Conclusion, chanceOf(r, DoorMechanism), r.Sides.Text)
		}
		if !strings.Contains(r.Sides.Text, c.says) || c.silent != "" && strings.Contains(r.Sides.Text, c.silent) {
			t.Errorf("%s: %s", c.name, r.Sides.Text)
		}
	}
}

// Where the whole way was not driven on one side, the speeds at the same readings tell; over
// hardly any way they tell nothing. (Drawn.)
func TestSidesThroughReadings(t *testing.T) {
	t.Parallel()
	part := func(rate, seconds float64) *Capture {
		d := newDraft(3)
		d.x, d.rate = 1.5, rate
		return examineWith(t, d.run(0, 1).run(12, seconds).run(0, 1).run(-12, seconds).run(0, 1), nil, false)
	}
	bad := newDraft(4)
	bad.rate = 1.15
	now := []*Capture{examineWith(t, bad.sweeps(2), nil, false)}
	for _, c := range []struct {
		good *Capture
		told bool
	}{{part(0.8, 2.5), true}, {part(0.8, 0.5), false}, {part(1.1, 2), false}} {
		r := Case{Now: now, Good: []*Capture{c.good}}.Judge()
		if told := strings.Contains(r.Sides.Text, "of the good side's speed"); told != c.told {
			t.Errorf("%+v", r.Sides)
		}
		if !c.told && r.Verdict.Conclusion != NoFault {
			t.Errorf("%s: %s", r.Verdict.Conclusion, r.Sides.Text)
		}
	}
}

// A travel that goes on to the end of the track past where the other side stops. (Drawn.)
func TestSideGoesFurther(t *testing.T) {
	t.Parallel()
	good := examineWith(t, newDraft(5).sweeps(2), nil, false)
	for _, c := range []struct {
		lo, hi float64
		told   bool
	}{{0.5, 4.97, true}, {0.5, 4.65, false}, {0.8, 4.97, false}} {
		d := newDraft(6)
		d.lo, d.hi, d.x = c.lo, c.hi, c.lo
		r := Case{Now: []*Capture{examineWith(t, d.sweeps(2), nil, false)}, Good: []*Capture{good}}.Judge()
		if told := strings.Contains(r.Sides.Text, "end of the track"); told != c.told {
			t.Errorf("%v to %v: %s", c.lo, c.hi, r.Sides.Text)
		}
	}
}
