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
