package analyze

import (
	"math"
	"testing"
)

// A control that slows down before its targets has them where it likes: what was crossed
// there is no pace.
func TestSlowingBeforeTargetsIsNoPace(t *testing.T) {
	t.Parallel()
	d := newDraft(34)
	stop := 0.0
	d.signOnly = true
	d.speed = func(d *draft, dir float64) float64 {
		if math.Abs(stop-d.x) < 0.7 {
			return 0.4
		}
		return 1
	}
	d.run(0, 1)
	for _, s := range []float64{4.0, 0.9, 3.8, 1.2, 3.6, 1.5, 3.4, 2.0, 3.3, 2.2, 3.4, 2.3} {
		stop = s
		for math.Abs(stop-d.x) > 0.02 {
			d.run(math.Copysign(12, stop-d.x), d.dt)
		}
		d.run(0, 1)
	}
	c, v := look(t, d)
	if c.shows(Heating) || v.Conclusion == Motor {
		t.Errorf("%s", say(c, v))
	}
}
