package analyze

import "testing"

// Turned over within fewer rows than a line takes, with no rest, the shaft's swing is no
// noise: it follows each drive, and moves both ways.
func TestSwingIsNoNoise(t *testing.T) {
	t.Parallel()
	d := newDraft(38)
	d.dt, d.noise, d.rate, d.x = 0.1, 0.005, 0.25, 3.6
	d.run(-12, 3)
	for range 40 {
		d.run(12, 0.4).run(-12, 0.4)
	}
	got, v := look(t, d)
	if got.Noise > 2*d.noise || showsKind(got, OneWay) || v.Conclusion == FeedbackSensor {
		t.Errorf("noise %.4f V of %.4f: %s", got.Noise, d.noise, say(got, v))
	}
}
