package analyze

import (
	"math"
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

// Held by pulses between the rows, a motor draws less than at the volts that the rows show:
// what it draws to run at all of them is no share of that. (Drawn.)
func TestHeldByPulsesBetweenTheRows(t *testing.T) {
	t.Parallel()
	for _, beats := range []bool{true, false} {
		a := newAmmeter(5)
		a.running, a.held = 0.11, 0.14
		a.run(0, 1)
		for i := range 6 {
			v := []float64{12, -12}[i%2]
			a.run(v, 4)
			from := len(a.drive)
			a.run(0.7*v, 4.3)
			for k := from; k < len(a.drive); k++ {
				a.drive[k] = v
				if beats && math.Mod(float64(k-from)*a.dt, 1.4) > 0.9 {
					a.drive[k] = 0
				}
			}
			a.run(0, 4)
		}
		c, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if found := finding(c, HeavyDrag) != nil; found == beats {
			t.Errorf("beats %v: %s", beats, say(c, Judge(c).Verdict))
		}
	}
}
