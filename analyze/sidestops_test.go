package analyze

import (
	"math"
	"strings"
	"testing"
)

// A body in the way leaves the other stop where the other side has it; a scale moves both.
// (Drawn; each takes nine tenths of the other side's time, which decides nothing.)
func TestStopsTellTravelFromScale(t *testing.T) {
	t.Parallel()
	side := func(seed uint64, low, high, rate float64) *Capture {
		d := newDraft(seed)
		d.lo, d.hi, d.x, d.rate = low, high, low, rate
		return examineWith(t, d.sweeps(3), nil, false)
	}
	good := side(1, 1, 4, 0.6)
	for _, c := range []struct {
		name           string
		low, high      float64
		likelier, than Fault
	}{
		{"high stop kept", 1.6, 4, DoorMechanism, FeedbackSensor},
		{"low stop kept", 1, 3.4, DoorMechanism, FeedbackSensor},
		{"both further in", 1.3, 3.7, FeedbackSensor, DoorMechanism},
	} {
		r := Case{Now: []*Capture{side(2, c.low, c.high, 0.6*0.8/0.9)}, Good: []*Capture{good}}.Judge()
		if a, b := chanceOf(r, c.likelier), chanceOf(r, c.than); !(a > 1.5*b) {
			t.Errorf("%s: %s %.2f, %s %.2f: %s", c.name, c.likelier, a, c.than, b, r.Sides.Text)
		}
	}
}

// A span that lies elsewhere on the track is said, and a sure "no fault" is none any more;
// one that lies elsewhere by what levers and air cases make is not. (Drawn.)
func TestSideShifted(t *testing.T) {
	t.Parallel()
	side := func(seed uint64, by float64) *Capture {
		d := newDraft(seed)
		d.lo, d.hi, d.x, d.rate = 0.8+by, 3.2+by, 0.8+by, 0.5
		return examineWith(t, d.sweeps(3), nil, false)
	}
	for _, c := range []struct {
		by   float64
		told bool
	}{{0.65, true}, {-0.6, true}, {0.25, false}} {
		r := Case{Now: []*Capture{side(2, c.by)}, Good: []*Capture{side(1, 0)}}.Judge()
		if told := strings.Contains(r.Sides.Text, "Both its stops read"); told != c.told || told == (chanceOf(r, NoFault) > 0.85) || r.Verdict.Conclusion > NoFault {
			t.Errorf("shifted by %.2f V: %s %.2f: %s", c.by, r.Verdict.Conclusion, r.Verdict.Probability, r.Sides.Text)
		}
	}
}

// A drive that is longer than the other side's whole way and still does not get there. (Drawn.)
func TestSideNeverGetsThere(t *testing.T) {
	t.Parallel()
	good := examineWith(t, newDraft(1).sweeps(3), nil, false)
	part := func(rate, seconds float64) *Capture {
		d := newDraft(3)
		d.x, d.rate = d.hi, rate
		return examineWith(t, d.run(0, 1).run(-12, seconds).run(0, 1).run(12, 2*seconds).run(0, 1).run(-12, seconds).run(0, 1), nil, false)
	}
	mirror := examineWith(t, newDraft(4).sweeps(3).inverted(), nil, false)
	for _, c := range []struct {
		name      string
		now, good *Capture
		told      bool
	}{
		{"half as fast", part(0.15, 9), mirror, true},
		{"not driven for long", part(0.6, 3), mirror, false},
		{"half as fast, the same way round", part(0.15, 9), good, true},
	} {
		r := Case{Now: []*Capture{c.now}, Good: []*Capture{c.good}}.Judge()
		if told := strings.Contains(r.Sides.Text, "of the good side's speed"); told != c.told || told && chanceOf(r, NoFault) > 0.3 {
			t.Errorf("%s: no fault %.2f: %s", c.name, chanceOf(r, NoFault), r.Sides.Text)
		}
	}
}

// Gears that are built so swing on both sides; what swings on one side only is a fault's.
// (Drawn.)
func TestSideSwingsAlike(t *testing.T) {
	t.Parallel()
	swings := func(seed uint64, by float64) *Capture {
		d := newDraft(seed)
		d.noise = 0.001
		d.speed = func(d *draft, dir float64) float64 { return 1 + by*math.Sin(2*math.Pi*d.x/0.16) }
		return examineWith(t, d.sweeps(3), nil, false)
	}
	bad := swings(1, 0.32)
	if kinded(bad, GearTurn) == nil && kinded(bad, StickSlip) == nil {
		t.Fatal("no swing found")
	}
	alone := Judge(bad)
	for _, c := range []struct {
		good float64
		like bool
	}{{0.25, true}, {0.05, false}} {
		r := Case{Now: []*Capture{bad}, Good: []*Capture{swings(2, c.good)}}.Judge()
		if r.Sides == nil || !r.Sides.Used || (chanceOf(r, NoFault) > 0.8) != c.like || !c.like && chanceOf(r, Motor) < 0.6 {
			t.Errorf("good side swings by %.2f: %s %.2f (alone %s): %s", c.good, r.Verdict.Conclusion, r.Verdict.Probability, alone.Verdict.Conclusion, r.Sides.Text)
		}
	}
}
