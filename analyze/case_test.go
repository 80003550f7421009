package analyze

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

func chanceOf(r *Report, f Fault) float64 {
	for _, c := range r.Verdict.Chances {
		if c.Fault == f {
			return c.Probability
		}
	}
	return 0
}

// Captures over months: a high end that creeps inwards by a little in each,
// too little for any one of them, is found over all, whatever their order.
func TestSeriesOverMonths(t *testing.T) {
	t.Parallel()
	month := func(i int, lost float64, dated bool) *Capture {
		d := newDraft(uint64(i))
		d.read = func(d *draft) float64 { return d.x - lost*(d.x-d.lo)/(d.hi-d.lo) }
		c := examineWith(t, d.sweeps(2), nil, false)
		c.Source = fmt.Sprintf("month-%d.csv", i)
		if dated {
			c.Start = time.Date(2026, time.Month(i+1), 1, 9, 0, 0, 0, time.UTC)
		}
		return c
	}
	var drift, still []*Capture
	for i := range 7 {
		drift = append(drift, month(i, 0.03*float64(i), true))
		still = append(still, month(i, 0, true))
	}
	r := Judge(drift...)
	if s := r.Series; s == nil || s.Order != "by start time" || len(s.Trends) != 3 || r.Verdict.Conclusion != FeedbackSensor {
		t.Fatalf("%+v, %s", r.Series, r.Verdict.Conclusion)
	}
	up := r.Series.Trends[1]
	if up.What != "high end" || up.Per != "day" || math.Abs(up.Change+0.18) > 0.02 || up.P > 0.001 || math.Abs(up.Slope*181+0.18) > 0.02 {
		t.Errorf("high end: %+v", up)
	}
	if e := r.Verdict.For; len(e) == 0 || !strings.Contains(e[len(e)-1].Text, "Over 7 captures") {
		t.Errorf("the trend is not in the evidence: %+v", e)
	}
	// Given in another order, the start times put them right.
	mixed := []*Capture{drift[3], drift[0], drift[6], drift[1], drift[5], drift[2], drift[4]}
	if m := Judge(mixed...); m.Series.Trends[1].P != up.P || m.Series.Files[0] != "month-0.csv" || m.Captures[0] != mixed[0] {
		t.Errorf("another order: %+v", m.Series)
	}
	// Without start times the order is as given, and said.
	var undated []*Capture
	for i := range 7 {
		undated = append(undated, month(i, 0.03*float64(i), false))
	}
	if u := Judge(undated...); u.Series.Order != "as given" || u.Series.Trends[1].Per != "capture" {
		t.Errorf("without dates: %+v", u.Series)
	}
	if r := Judge(still...); r.Verdict.Conclusion != NoFault || !strings.Contains(r.Series.Text, "No drift") {
		t.Errorf("no drift: %s, %+v", r.Verdict.Conclusion, r.Series)
	}
	if r := Judge(drift[:3]...); len(r.Series.Trends) != 0 || !strings.Contains(r.Series.Text, "needs 5") {
		t.Errorf("three captures: %+v", r.Series)
	}
	// The same fault in two captures is not two faults.
	one := examineWith(t, cases()["drop-outs"].make(1), nil, false)
	two := examineWith(t, cases()["drop-outs"].make(2), nil, false)
	moved := func(r *Report) float64 {
		return math.Log(chanceOf(r, WiringControl) / prior()[WiringControl] * prior()[FeedbackSensor] / chanceOf(r, FeedbackSensor))
	}
	if full, both := moved(Judge(one)), moved(Judge(one, two)); both <= full || both > 1.75*full {
		t.Errorf("log odds moved by %v with one capture, by %v with two", full, both)
	}
}

// Captures that cannot be of one actuator are named.
func TestDifferentActuators(t *testing.T) {
	t.Parallel()
	a := examineWith(t, newDraft(1).sweeps(3), nil, false)
	other := newDraft(2)
	other.lo, other.hi, other.rate = 1, 3.2, 0.25
	d := other.sweeps(2)
	for i := range d.drive {
		d.drive[i] = -d.drive[i]
	}
	b := examineWith(t, d, nil, false)
	a.Source, b.Source = "a.csv", "b.csv"
	r := Judge(a, b)
	if len(r.Series.Different) != 1 || !strings.Contains(r.Series.Different[0], "a.csv and b.csv look like different actuators") || !strings.Contains(r.Series.Different[0], "span 4.0") {
		t.Errorf("%+v", r.Series)
	}
	// A jam, a weak motor or a lost track make no other actuator.
	jam := newDraft(3)
	jam.hi = 2.8
	weak := newDraft(4)
	weak.rate = 0.45
	for name, d := range map[string]*draft{"jam": jam.sweeps(3), "weak": weak.sweeps(3), "end loss": cases()["end loss"].make(1)} {
		if r := Judge(a, examineWith(t, d, nil, false)); len(r.Series.Different) > 0 {
			t.Errorf("%s: %v", name, r.Series.Different)
		}
	}
	// The sense of drive alone is asked about, coupled or free, and a fault is
	// not.
	for _, free := range []bool{false, true} {
		turned := examineWith(t, newDraft(5).sweeps(3).inverted(), nil, free)
		if r := Judge(a, turned); len(r.Series.Different) != 0 || len(r.Series.Doubtful) != 1 || !strings.Contains(r.Series.Doubtful[0], "the other way round") {
			t.Errorf("free %t: %+v", free, r.Series)
		}
		// Uncoupled it cannot be the slower one, whatever is weak.
		if r := Judge(a, examineWith(t, weak, nil, free)); (len(r.Series.Doubtful) != 0) != free {
			t.Errorf("free %t: %+v", free, r.Series)
		}
	}
}

// The good side helps, but modestly where healthy doors may differ by as much.
func TestGoodSide(t *testing.T) {
	t.Parallel()
	good := func(s uint64) *Capture { return examineWith(t, newDraft(s).sweeps(3), nil, false) }
	mirrored := func(s uint64) *Capture {
		d := newDraft(s).sweeps(3).inverted()
		return examineWith(t, d, nil, false)
	}
	slow := newDraft(5)
	slow.rate = 0.45
	slower := newDraft(5)
	slower.rate = 0.59
	short := newDraft(6)
	short.hi = 3.3
	scaled := newDraft(7)
	scaled.read = func(d *draft) float64 { return 0.5 + 0.7*(d.x-0.5) }
	for _, c := range []struct {
		name    string
		bad     *draft
		fault   Fault
		raises  bool
		says    string
		atMost  float64 // log odds moved against no fault
		atLeast float64
	}{
		{"like it", newDraft(9).sweeps(3), Motor, false, "are like the good side's", 0, -1},
		{"slower", slower.sweeps(3), Motor, true, "of the good side's speed", 2.5, 0.7},
		{"far slower than doors differ", slow.sweeps(3), Motor, true, "of the good side's speed", 3.6, 1.5},
		{"far shorter", short.sweeps(3), DoorMechanism, true, "of the good side's span", 3.6, 0.7},
		{"scale, far more than healthy ones differ", scaled.sweeps(3), FeedbackSensor, true, "and takes 1", 3.6, 0.3},
	} {
		bad := examineWith(t, c.bad, nil, false)
		odds := func(r *Report) float64 { return math.Log(chanceOf(r, c.fault) / chanceOf(r, NoFault)) }
		for _, g := range []*Capture{good(1), mirrored(2)} {
			alone, with := Judge(bad), Case{Now: []*Capture{bad}, Good: []*Capture{g}}.Judge()
			// Visible signs no longer speak against a fault that now has one;
			// that alone may move the odds by what no sign at all did.
			moved := odds(with) - odds(alone)
			if with.Sides == nil || !with.Sides.Used || !strings.Contains(with.Sides.Text, c.says) || (moved > 0) != c.raises {
				t.Errorf("%s: moved the log odds by %.2f; %+v", c.name, moved, with.Sides)
			}
			for _, a := range with.Sides.asides {
				if x := a.weights[c.fault] - a.weights[NoFault]; x > c.atMost || x < c.atLeast {
					t.Errorf("%s: log likelihood ratio %.2f, expected %.1f to %.1f", c.name, x, c.atLeast, c.atMost)
				}
			}
		}
	}
	// What it says of another span is what the time and the stops say.
	for _, c := range []struct {
		bad        *draft
		says, less string
	}{
		{short.sweeps(3), "a shorter travel: an obstacle", "sensor"},
		{scaled.sweeps(3), "a sensor that shows less", "obstacle"},
	} {
		r := Case{Now: []*Capture{examineWith(t, c.bad, nil, false)}, Good: []*Capture{good(1)}}.Judge()
		if a := r.Sides.asides; len(a) != 1 || !strings.Contains(a[0].because, c.says) || strings.Contains(a[0].because, c.less) {
			t.Errorf("want %q without %q: %+v", c.says, c.less, a)
		}
	}
	// A good side that is not good is not used.
	r := Case{Now: []*Capture{good(1)}, Good: []*Capture{examineWith(t, cases()["dead spot held"].make(1), nil, false)}}.Judge()
	if r.Sides.Used || !strings.Contains(r.Sides.Text, "shows a fault itself") {
		t.Errorf("%+v", r.Sides)
	}
}

// A band of extra load shows beside a side without it.
func TestGoodSideSlowBand(t *testing.T) {
	t.Parallel()
	b := newDraft(3)
	b.speed = func(d *draft, dir float64) float64 {
		if d.x > 2 && d.x < 2.6 {
			return 0.6
		}
		return 1
	}
	b.run(0, 1)
	for range 3 {
		b.run(12, 7).run(0, 0.5).run(-12, 7).run(0, 0.5)
	}
	r := Case{Now: []*Capture{examineWith(t, b, nil, false)}, Good: []*Capture{examineWith(t, newDraft(4).sweeps(3), nil, false)}}.Judge()
	if s := r.Sides; len(s.Slow) != 1 || math.Abs(s.Slow[0].From-37.5) > 8 || math.Abs(s.Slow[0].To-52.5) > 8 {
		t.Errorf("drawn from 37.5 to 52.5 %%: %+v", r.Sides)
	}
}

// Of no capture nothing is told, and nothing breaks.
func TestJudgeOfNothing(t *testing.T) {
	t.Parallel()
	good := examineWith(t, newDraft(1).sweeps(3), nil, false)
	for name, r := range map[string]*Report{
		"no capture":      Judge(),
		"an empty case":   Case{}.Judge(),
		"a good side":     Case{Good: []*Capture{good}}.Judge(),
		"before a repair": Case{Before: []*Capture{good}}.Judge(),
	} {
		if v := r.Verdict; v.Conclusion != CannotTell || v.Summary != "There is no capture to judge." {
			t.Errorf("%s: %s, %q", name, v.Conclusion, v.Summary)
		}
	}
}
