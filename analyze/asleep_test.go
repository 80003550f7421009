package analyze

import (
	"slices"
	"testing"
)

// Pulses of which the rows meet the same part each time look like full drives between
// rests: a shaft that creeps on through both does not fail to start.
func TestPulsesBetweenTheRows(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		goesOn float64 // V, of the pulses' mean while the rows meet their pauses
		starts bool
	}{
		{"creeps on in the rests", 0.8, true},
		{"stands in the rests", 0, false},
	} {
		d := newDraft(3)
		d.quantum = 0.03
		d.sweeps(1)
		d.run(12, 1.5).run(0, 1)
		for range 4 {
			a := len(d.drive)
			d.run(c.goesOn, 0.7)
			for i := a; i < len(d.drive); i++ {
				d.drive[i] = 12
			}
			a = len(d.drive)
			d.run(c.goesOn, 1)
			clear(d.drive[a:])
		}
		d.run(12, 4).run(0, 0.5).run(-12, 6)
		got := examined(t, d, false)
		if found := slices.ContainsFunc(got.Findings, func(f Finding) bool { return f.Form == doesNotStart }); found == c.starts {
			t.Errorf("%s: does not start is %v: %v", c.name, found, got.Findings)
		}
	}
}
