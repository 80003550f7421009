package analyze

import (
	"math"
	"slices"
	"testing"
)

// A reading that lies at a rail whatever is driven is one line, driven often or once: it
// is judged alike, and what tells the sensor from its wires is to measure in the plug.
func TestPinnedAtARail(t *testing.T) {
	t.Parallel()
	at := func(level float64) *draft {
		d := newDraft(3)
		d.noise = 0.0006
		d.read = func(*draft) float64 { return level }
		return d
	}
	var said []float64
	for name, d := range map[string]*draft{
		"often": at(4.98).sweeps(3),
		"once":  at(4.98).run(0, 0.4).run(-12, 1.5).run(0, 18),
		"low":   at(0.01).sweeps(3),
	} {
		c, v := look(t, d)
		got := namesOf(v)
		if v.Conclusion != WiringControl || got[0] != measureSensorPins || slices.Contains(got, fullSweeps) {
			t.Errorf("%s: next %q, %s", name, got, say(c, v))
		}
		said = append(said, chanceIn(v, FeedbackSensor))
	}
	if lo, hi := extremes(said); hi-lo > 0.05 || math.IsNaN(hi) {
		t.Errorf("the sensor has %v", said)
	}
	// Where the reading moves there is nothing to measure there.
	hole := newDraft(1)
	hole.read = func(d *draft) float64 {
		if d.x > 2.5 && d.x < 2.8 {
			return 0
		}
		return d.x
	}
	if c, _ := look(t, hole.sweeps(3)); slices.ContainsFunc(openTrials([]*Capture{c}), func(x trial) bool { return x.name == measureSensorPins }) {
		t.Error("offered where the reading moves")
	}
}
