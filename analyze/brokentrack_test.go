package analyze

import "testing"

// A control drives to and fro over a track that is broken through: no pulses on the wire.
func TestBrokenTrackUnderADitheringControl(t *testing.T) {
	t.Parallel()
	d := newDraft(6)
	d.read = func(d *draft) float64 {
		if d.x > 2.5 {
			return 4.95
		}
		return 0.05
	}
	d.x = 2.45
	d.run(0, 0.5)
	for range 120 {
		d.run(12, 0.1).run(-12, 0.1)
	}
	c, v := look(t, d)
	for _, f := range c.Findings {
		if f.Kind == NotAPot {
			t.Error("taken for pulses")
		}
	}
	if v.Conclusion != FeedbackSensor {
		t.Errorf("%s", say(c, v))
	}
}
