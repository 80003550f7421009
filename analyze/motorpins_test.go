package analyze

import (
	"slices"
	"testing"
)

// Where the current says that the motor's circuit is open, its pins are measured, and
// nothing is asked that a motor would have to move for.
func TestNextTestOfAMotorWithoutCurrent(t *testing.T) {
	t.Parallel()
	const pins = "Measure the motor at its pins"
	for _, c := range []struct {
		name string
		amps float64
		want bool
	}{
		{"no current", 0, true},
		{"stall current", 0.6, false},
	} {
		d := newDraft(4).run(0, 1)
		for range 4 {
			d.run(12, 3).run(0, 1).run(-12, 3).run(0, 1)
		}
		tr := d.trace()
		amps := make([]float64, len(tr.Time))
		for i := range amps {
			tr.Feedback.Mean[i] = 2.5
			if x := tr.Drive.Mean[i]; x > 6 || x < -6 {
				amps[i] = c.amps
			}
			amps[i] += 0.001 * float64(i%3)
		}
		tr.Current = beside("current", "A", amps)
		got, v := lookAt(t, tr)
		offered := func(name string) bool {
			return slices.ContainsFunc(v.Next, func(n NextTest) bool { return n.Name == name })
		}
		if offered(pins) != c.want || offered(logGoodSide) || offered(fullSweeps) {
			t.Errorf("%s: %v; %s", c.name, v.Next, say(got, v))
		}
	}
}
