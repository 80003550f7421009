package analyze

import (
	"math"
	"strings"
	"testing"
)

// Held on far less current than the other side, and a little slower; another clamp's factor
// makes all of the current less, and warmth a little of it. (Drawn.)
func TestSideHeldOnLess(t *testing.T) {
	t.Parallel()
	side := func(seed uint64, rate, run, held float64) *Capture {
		d := newDraft(seed)
		d.rate = rate
		d.sweeps(3)
		tr := d.trace()
		amps := make([]float64, len(d.drive))
		for i, v := range d.drive {
			if math.Abs(v) < 1 {
				continue
			}
			amps[i] = run
			if stop := d.feed[i]; v > 0 && stop > d.hi-0.03 || v < 0 && stop < d.lo+0.03 {
				amps[i] = held
			}
		}
		tr.Current = beside("current", "A", amps)
		c, _ := lookAt(t, tr)
		return c
	}
	good := side(1, 0.8, 0.08, 0.38)
	for _, c := range []struct {
		name            string
		rate, run, held float64
		told            bool
	}{
		{"worn brushes", 0.68, 0.08, 0.22, true},
		{"another clamp", 0.72, 0.048, 0.22, false},
		{"warmer", 0.72, 0.08, 0.32, false},
		{"faster than the other", 0.9, 0.08, 0.22, false},
	} {
		r := Case{Now: []*Capture{side(2, c.rate, c.run, c.held)}, Good: []*Capture{good}}.Judge()
		if told := strings.Contains(r.Sides.Text, "Held at a stop"); told != c.told || told != (chanceOf(r, Motor) > chanceOf(r, NoFault)) {
			t.Errorf("%s: %s %.2f, motor %.2f: %s", c.name, r.Verdict.Conclusion, r.Verdict.Probability, chanceOf(r, Motor), r.Sides.Text)
		}
	}
}
