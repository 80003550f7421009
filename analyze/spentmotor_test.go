package analyze

import (
	"math"
	"testing"
)

// A motor that heats until it no longer moves its load stands anywhere, under either
// polarity: neither a stop that wanders nor a track that ends. A stop that wanders under a
// motor that keeps its speed is told all the same. (Drawn.)
func TestSpentMotorVisitsNoStop(t *testing.T) {
	t.Parallel()
	heats := newDraft(21)
	heats.speed = func(d *draft, _ float64) float64 {
		// Slower with every second of drive, and from 38 s on hardly at all.
		return math.Max(0.04, math.Min(1-d.t/110, 0.65*(1-(d.t-38)/11)))
	}
	heats.run(0, 1).run(12, 6.5)
	for range 2 {
		heats.run(-12, 7.5).run(12, 7.5)
	}
	heats.run(-12, 12)
	for range 8 {
		heats.run(12, 1.5).run(-12, 1.5)
	}
	wanders := newDraft(22)
	wanders.read = func(d *draft) float64 { return d.lo + (d.x-d.lo)*(1-d.t/300) }
	wanders.run(0, 1)
	for range 4 {
		wanders.run(12, 7).run(-12, 7)
	}
	got, v := lookAt(t, heats.trace())
	for i := range got.Findings {
		if k := got.Findings[i].Kind; k == SpanDrift || k == EndLoss || k == Jam || v.Conclusion != Motor {
			t.Errorf("heats: %s", say(got, v))
			break
		}
	}
	if got, v = lookAt(t, wanders.trace()); v.Conclusion != FeedbackSensor {
		t.Errorf("wanders: %s", say(got, v))
	}
}
