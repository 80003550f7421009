package analyze

import (
	"math"
	"testing"
)

// losses is a reading that falls to the low rail at the given times, in s.
func losses(at ...Interval) func(*draft) float64 {
	return func(d *draft) float64 {
		for _, o := range at {
			if o.Has(d.t) {
				return 0.02
			}
		}
		return d.x
	}
}

// cableLoss gives the losses of signal of a capture that come with time.
func cableLoss(c *Capture) *Finding {
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Kind == Dropouts && f.has(readWellHere) {
			return f
		}
	}
	return nil
}

// Losses while the shaft stands driven against either stop, and one midway where the
// other passes read well: no track.
func TestSpellsOfALooseWire(t *testing.T) {
	t.Parallel()
	d := newDraft(3)
	d.read = losses(Interval{6.3, 6.6}, Interval{13.0, 13.2}, Interval{23.0, 23.1})
	d.sweeps(3)
	c, v := look(t, d)
	if f := cableLoss(c); f == nil || f.Form != lossAtRestToo || f.Tie != TiedToTime {
		t.Errorf("losses at times not found")
	}
	if v.Conclusion != WiringControl {
		t.Errorf("%s", say(c, v))
	}
}

// Bursts of losses all along the way, and at the stops as well: not a wiper that makes bad
// contact wherever it is.
func TestSpellsAllAlongTheWay(t *testing.T) {
	t.Parallel()
	d := newDraft(8)
	var at []Interval
	for _, from := range []float64{1.7, 3.2, 5.1, 6.4, 9.2, 11.3, 13.0, 15.5, 18.1, 19.5, 22.4, 24.2, 26.0, 28.6, 31.1, 34.9, 37.2} {
		for k := range 6 {
			at = append(at, Interval{from + 0.06*float64(k), from + 0.06*float64(k) + 0.02})
		}
	}
	d.read = losses(at...)
	d.sweeps(3)
	c, v := look(t, d)
	if cableLoss(c) == nil || v.Conclusion != WiringControl {
		t.Errorf("%s", say(c, v))
	}
}

// The same number of losses, each as the wiper goes over one piece of the track.
func TestSpellsOfAPlace(t *testing.T) {
	t.Parallel()
	d := newDraft(4)
	d.read = func(d *draft) float64 {
		if math.Abs(d.x-2.2) < 0.12 {
			return 0.02
		}
		return d.x
	}
	d.sweeps(3)
	c, v := look(t, d)
	if cableLoss(c) != nil {
		t.Error("a place that fails pass after pass was called a loose wire")
	}
	if v.Conclusion != FeedbackSensor {
		t.Errorf("concluded %v", v.Conclusion)
	}
}

// A wiper rests on a worn end and lets go there, and once more on its way over it.
func TestSpellsAtRestOnAWornEnd(t *testing.T) {
	t.Parallel()
	d := newDraft(5)
	d.read = func(d *draft) float64 {
		if d.x > 4.2 && math.Mod(d.t, 0.5) < 0.2 {
			return 0.02
		}
		return d.x
	}
	d.sweeps(3)
	if c, _ := look(t, d); cableLoss(c) != nil {
		t.Error("losses at one end only were called a loose wire")
	}
}

// reacts is a control that hunts for its place while the reading is lost, and rests when it
// is back.
func reacts(seed uint64) *draft {
	d := newDraft(seed)
	lost := false
	d.read = func(d *draft) float64 {
		if lost {
			return 0.02
		}
		return d.x
	}
	d.sweeps(1)
	for i, to := range []float64{3, 2.4, 3.2, 2.6, 3.1, 2, 3} {
		d.goTo(to).run(0, 1)
		lost = i%2 == 0
		d.run(0, d.dt*float64(i%2)).run(12, 0.3)
		lost = false
		d.run(0, 1.5)
	}
	return d
}

// A loss that makes the control drive comes and goes with that drive, yet most drives come
// without one.
func TestSpellsThatMakeTheControlDrive(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		c, v := look(t, reacts(seed))
		if cableLoss(c) == nil || v.Conclusion != WiringControl {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}

// What the motor's current does to the reading comes with each drive: no loss of signal.
func TestNoSpellsOfTheMotorsCurrent(t *testing.T) {
	t.Parallel()
	d := newDraft(2)
	d.read = func(d *draft) float64 {
		if d.volts != 0 {
			return d.x - 0.4
		}
		return d.x
	}
	d.x = 2.5
	d.run(0, 1)
	for _, to := range []float64{3, 2.4, 3.2, 2.6, 3.1, 2.2} {
		d.goTo(to).run(0, 1)
	}
	if c, v := look(t, d); cableLoss(c) != nil {
		t.Errorf("steps with the drive were called losses: %s", say(c, v))
	}
}

// A wire that opens while the shaft stands driven against a stop and closes just after the
// drive has ended, and once midway; at the other stop a loss would not show.
func TestSpellsMostlyAtAStop(t *testing.T) {
	t.Parallel()
	d := newDraft(5)
	d.lo = 0.2 // there a fall to the rail would not show
	d.x = 0.2
	d.read = losses(Interval{2.5, 2.8}, Interval{8.5, 9.2}, Interval{29.6, 30.2}, Interval{35.0, 35.4}, Interval{50.7, 51.1})
	for range 3 {
		d.run(0, 0.5).run(12, 8.5).run(0, 4).run(-12, 6).run(0, 2)
	}
	c, v := look(t, d)
	f := cableLoss(c)
	if f == nil {
		t.Fatalf("%s", say(c, v))
	}
	if n, _ := f.Measure("at rest"); n < 3 || v.Conclusion != WiringControl {
		t.Errorf("%s", say(c, v))
	}
}
