package analyze

import (
	"math"
	"strings"
	"testing"
)

// A supply channel whose clip lies behind what switches the motor, or nowhere: it clears
// nothing and accuses nothing, and no chance is without a number. (Drawn.)
func TestSupplyClippedElsewhere(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		volts func(drive float64) float64
		note  string
	}{
		{"behind the driver's feed", math.Abs, "behind what switches the motor"},
		{"behind one leg", func(x float64) float64 { return math.Max(0, x) }, "behind what switches the motor"},
		{"nowhere", func(float64) float64 { return 0.001 }, "not on the motor's supply"},
		{"not moving at all", func(float64) float64 { return 0 }, "not on the motor's supply"},
		{"on the battery", func(float64) float64 { return 12.6 }, ""},
	} {
		d := newDraft(1)
		d.run(0, 1)
		for range 4 {
			d.run(12, 14).run(0, 1).run(-12, 14).run(0, 1)
		}
		tr := d.trace()
		supply := make([]float64, len(d.time))
		for i := range supply {
			supply[i] = c.volts(float64(tr.Drive.Mean[i]))
		}
		tr.Supply = beside("supply", "V", supply)
		seen, v := lookAt(t, tr)
		if v.Conclusion != NoFault || !(v.Probability > 0.9) {
			t.Errorf("%s: %s", c.name, say(seen, v))
		}
		said := strings.Join(seen.Notes, "; ")
		if c.note != "" && !strings.Contains(said, c.note) || c.note == "" && strings.Contains(said, "left out") || strings.Contains(said, "could not be measured") {
			t.Errorf("%s: notes %q", c.name, said)
		}
	}
}
