package analyze

import (
	"strings"
	"testing"
)

// What a logger took at its slower pace is judged too.
func TestSlowerPaceIsJudged(t *testing.T) {
	t.Parallel()
	d := newDraft(3)
	d.dt = 0.02
	d.sweeps(1)
	from := d.t
	d.dt = 0.1
	d.sweeps(1)
	c, v := look(t, d)
	if len(c.Sweeps) != 4 || v.Conclusion != NoFault || c.Sweeps[3].Time.To < from {
		t.Error(say(c, v))
	}

	d = newDraft(3)
	d.dt = 0.02
	d.sweeps(1)
	d.dt = 0.1
	d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > 2.4 }
	d.sweeps(2)
	if c, v := look(t, d); v.Conclusion == NoFault || !showsKind(c, Jam) && !showsKind(c, SpanDrift) && !showsKind(c, EndLoss) {
		t.Error(say(c, v))
	}
}

// What came too slowly to be judged is denied nothing, and said.
func TestTooSlowPaceIsSaid(t *testing.T) {
	t.Parallel()
	d := newDraft(3)
	d.dt = 0.02
	d.sweeps(2)
	whole, best := look(t, d)
	d.dt = 1
	d.sweeps(2)
	d.dt = 0.02
	c, v := look(t, d)
	said := false
	for _, b := range c.Blind {
		said = said || strings.Contains(b.Text, "every 1 s, too seldom to judge")
	}
	if !said || len(c.Sweeps) != len(whole.Sweeps) || v.Conclusion == NoFault && v.Probability > best.Probability-0.05 {
		t.Error(say(c, v), best.Probability)
	}
}
