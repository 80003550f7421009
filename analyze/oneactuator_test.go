package analyze

import (
	"strings"
	"testing"
)

// like draws three sweeps each way between two stops, at a pace and at volts.
func like(seed uint64, lo, hi, rate, volts float64) *draft {
	d := newDraft(seed)
	d.lo, d.hi, d.x, d.rate = lo, hi, lo, rate*12/volts // a draft takes its rate by 12 V
	full := 1.15*(hi-lo)/rate + 0.5
	d.run(0, 1)
	for range 3 {
		d.run(volts, full).run(0, 0.5).run(-volts, full).run(0, 0.5)
	}
	return d
}

// sharesOne are what two captures of one actuator may differ in, and what they may not,
// against 0.5 to 4.5 V at 0.8 V/s and 12 V. (Drawn.)
func sharesOne() []struct {
	name                  string
	lo, hi, rate, volts   float64
	other, otherUncoupled bool
} {
	return []struct {
		name                  string
		lo, hi, rate, volts   float64
		other, otherUncoupled bool
	}{
		{"alike", 0.5, 4.5, 0.8, 12, false, false},
		{"warm", 0.5, 4.5, 0.95, 12, false, false},
		{"at 14 V", 0.5, 4.5, 1.1, 14, false, false},
		{"at 9 V, on a heavy door", 0.5, 4.5, 0.42, 9, false, true}, // no door speeds it up
		{"at 9 V", 0.5, 4.5, 0.56, 9, false, false},
		{"jammed", 0.5, 2.6, 0.8, 12, false, true},
		{"off its link", 0.3, 4.8, 1.2, 12, false, false},
		{"a sensor that shows half", 0.3, 2.3, 0.4, 12, false, true},
		{"shorter and three times as fast", 1.5, 3.0, 2.4, 12, true, true},
		{"wider and a third as fast", 0.1, 4.9, 0.27, 12, false, true},
	}
}

// A later capture of another actuator is left out, by name, and one of the same is not.
func TestLaterCaptureOfAnotherActuator(t *testing.T) {
	t.Parallel()
	first := examineWith(t, like(1, 0.5, 4.5, 0.8, 12), nil, false)
	first.Source = "march.csv"
	alone := Judge(first).Verdict
	for _, c := range sharesOne() {
		later := examineWith(t, like(2, c.lo, c.hi, c.rate, c.volts), nil, false)
		later.Source = "april.csv"
		r := Judge(first, later)
		if left := len(r.Series.LeftOut) > 0; left != c.other || left != (len(r.Series.Different) > 0) {
			t.Errorf("%s: left out %q, %q", c.name, r.Series.LeftOut, r.Series.Different)
		}
		if c.other && (r.Verdict.Probability != alone.Probability || !strings.Contains(r.Verdict.Summary, "Not weighed, because it looks like another actuator's: april.csv.")) {
			t.Errorf("%s: %.3f, alone %.3f: %s", c.name, r.Verdict.Probability, alone.Probability, r.Verdict.Summary)
		}
		if r := (Case{Now: []*Capture{first, later}, Same: true}).Judge(); len(r.Series.LeftOut) > 0 {
			t.Errorf("%s: left out though the user says that it is the same", c.name)
		}
	}
}

// No repair is proven by another actuator's capture, and the good side is one of the kind.
func TestOtherActuatorProvesNothing(t *testing.T) {
	t.Parallel()
	wrong := newDraft(1)
	wrong.x = wrong.lo
	wrong.speed = func(d *draft, dir float64) float64 {
		if d.x > 2 && d.x < 2.6 {
			return 0.5
		}
		return 1
	}
	before := examineWith(t, wrong.sweeps(3), nil, false)
	if finding(before, SlowZone) == nil {
		t.Fatal("no slow zone")
	}
	before.Findings[0].Kind = Jam // it explains no pace
	for _, c := range sharesOne() {
		x := examineWith(t, like(2, c.lo, c.hi, c.rate, c.volts), nil, false)
		r := Case{Now: []*Capture{x}, Before: []*Capture{before}}.Judge().Repair
		if strangers := strings.Contains(r.Text, "do not look like captures of one kind"); c.other && (!strangers || r.Result == RepairProven || !strings.Contains(r.Text, "V per s")) {
			t.Errorf("%s: %s, %s", c.name, r.Result, r.Text)
		}
		good := examineWith(t, like(3, 0.5, 4.5, 0.8, 12), nil, false)
		if s := (Case{Now: []*Capture{x}, Good: []*Capture{good}}).Judge().Sides; s.Used == c.other || c.other && !strings.Contains(s.Text, "actuators of one kind") {
			t.Errorf("%s: good side %+v", c.name, s)
		}
	}
}

// An uncoupled capture that stops short of where the coupled one goes is another's.
func TestUncoupledStopsShortOfTheCoupled(t *testing.T) {
	t.Parallel()
	coupled := examineWith(t, like(1, 0.5, 4.5, 0.8, 12), nil, false)
	for _, c := range sharesOne() {
		free := examineWith(t, like(2, c.lo, c.hi, c.rate, c.volts), nil, true)
		if r := Judge(coupled, free); (len(r.Series.LeftOut) > 0) != c.otherUncoupled {
			t.Errorf("%s: left out %q, asked %q", c.name, r.Series.LeftOut, r.Series.Doubtful)
		}
	}
	// As wide and as fast, but elsewhere.
	free := examineWith(t, like(2, 0.95, 4.9, 0.8, 12), nil, true)
	if r := Judge(coupled, free); len(r.Series.LeftOut) != 1 || !strings.Contains(strings.Join(r.Series.Doubtful, " "), "it stops at 0.95 V going down, the coupled one reads 0.50 V") {
		t.Errorf("elsewhere: left out %q, asked %q", r.Series.LeftOut, r.Series.Doubtful)
	}
}

// The paces of one actuator at like volts lie within what loads, warmth and make allow, and
// further down at fewer volts.
func TestOneActuatorsPaces(t *testing.T) {
	t.Parallel()
	alike, fewer := oneActuatorsPaces(1), oneActuatorsPaces(9./14)
	if alike.From < 0.4 || alike.From > 0.6 || alike.To < 1.8 || alike.To > 2.1 {
		t.Errorf("at like volts %+v", alike)
	}
	if !(fewer.From < alike.From) || !(fewer.To < alike.To) || fewer.To < 1 {
		t.Errorf("at 9 V of 14 %+v", fewer)
	}
}
