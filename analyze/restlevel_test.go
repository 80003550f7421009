package analyze

import (
	"math"
	"testing"
)

// A drive that never rests is turned over through some rows in between: they are no rest
// level, and neither way has fewer volts for it. An instrument's offset is one.
func TestRestLevel(t *testing.T) {
	t.Parallel()
	d := newDraft(1)
	d.dt = 0.05
	d.run(13.3, 9).run(-4.2, 0.05).run(-8.5, 0.05).run(-6.5, 0.05).run(-3.3, 0.05).run(-13.3, 5)
	c := examineDraft(t, d)
	if l := c.Levels; math.Abs(l.Rest) > 0.2 {
		t.Errorf("the rest level of a drive without rest: %.2f V, expected about 0", l.Rest)
	}
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Kind == UnevenWays {
			t.Errorf("ways of one speed: %s", f.Title)
		}
	}
	d = newDraft(1).sweeps(2)
	for i := range d.drive {
		d.drive[i] += 1.5
	}
	if l := examineDraft(t, d).Levels; math.Abs(l.Rest-1.5) > 0.2 {
		t.Errorf("the rest level with 1.5 V of offset: %.2f V", l.Rest)
	}
}
