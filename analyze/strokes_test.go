package analyze

import (
	"math"
	"testing"
)

// Each stroke is preceded by a short drive the same way that takes up the play: the two
// are one stroke, and what it reads is how far apart its stands lie. A shaft that a spring
// throws off its stop did not run over its travel, and its time tells nothing.
func TestStrokeFromStandToStand(t *testing.T) {
	t.Parallel()
	strokes := func(thrown float64) (all []Sweep) {
		d := newDraft(1)
		d.speed = func(d *draft, dir float64) float64 {
			if dir < 0 && d.x > d.hi-thrown {
				return 50
			}
			return 1
		}
		for range 4 {
			d.run(12, 0.06).run(0, 0.3).run(12, 8).run(0, 0.2).run(-12, 0.06).run(0, 0.3).run(-12, 8).run(0, 0.2)
		}
		w := measured(d)
		stands := w.standsByMove()
		for k := range w.moves {
			if w.moves[k].Direction == Down {
				if c, ok := w.strokeOf(stands, k); ok {
					all = append(all, c)
				}
			}
		}
		return all
	}
	even := strokes(0)
	if len(even) != 4 {
		t.Errorf("%d strokes behind nudges, want 4", len(even))
	}
	for _, c := range even {
		if math.Abs(c.High-c.Low-4) > 0.004 { // the median of 40 rows of 4 mV is off by 0.8 mV
			t.Errorf("a stroke of 4 V reads %.3f V", c.High-c.Low)
		}
	}
	if thrown := strokes(0.6); len(thrown) != 0 {
		t.Errorf("%d strokes of a shaft that is thrown, want none", len(thrown))
	}
}
