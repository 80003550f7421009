package analyze

import (
	"math"
	"testing"
)

// A control brakes its motor at the stop for a quarter of a second, then lets go of the leads:
// the stop throws the motor back, and its own volts of the other sign come as late as that,
// without a current. A drive of so few volts draws one.
func TestGeneratedAfterBraking(t *testing.T) {
	t.Parallel()
	for _, fed := range []bool{false, true} {
		d := newDraft(5)
		d.x = 2.5
		var amps []float64
		draw := func(a float64) {
			for len(amps) < len(d.time) {
				amps = append(amps, a)
			}
		}
		d.run(0, 1)
		draw(0)
		for range 3 {
			d.run(12, 2.4)
			draw(0.12)
			d.run(12, 1.5)
			draw(0.4)
			d.run(0, 0.28)
			draw(0.08)
			for i := range 70 {
				d.run(-5.5*math.Sin(math.Pi*float64(i+10)/90), d.dt)
			}
			draw(0.1 * boolOf(fed))
			d.run(0, 6)
			draw(0)
		}
		tr := d.trace()
		tr.Current = beside("current", "A", amps)
		got, v := lookAt(t, tr)
		down := 0
		for _, m := range got.Moves {
			if m.Polarity < 0 {
				down++
			}
		}
		if (down > 0) != fed {
			t.Errorf("fed %v: %d drives down; %s", fed, down, say(got, v))
		}
	}
}
