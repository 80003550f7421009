package analyze

import "testing"

// A few single rows that are off while the motor runs, to no level, may be its sparks in
// the wires: open. A wire that lets go goes to its level, and stays for longer. (Drawn.)
func TestLossesOfSingleRows(t *testing.T) {
	t.Parallel()
	// Of every so many rows under way, as many as lasts are off.
	strewn := func(every, lasts int, to func(d *draft) float64) func(s uint64) *draft {
		return func(s uint64) *draft {
			d := newDraft(s)
			k := 0
			d.read = func(d *draft) float64 {
				if d.volts == 0 || d.x <= d.lo || d.x >= d.hi {
					return d.x
				}
				if k++; k%every < lasts && k > every {
					return to(d)
				}
				return d.x
			}
			return d.sweeps(3)
		}
	}
	lower := func(d *draft) float64 { return d.x - 0.35 - 0.6*d.rng.Float64() }
	for _, c := range []struct {
		name string
		draw func(s uint64) *draft
		want bool
	}{
		{"to no level", strewn(331, 1, lower), true},
		{"to no level, for four rows", strewn(331, 4, lower), false},
		{"to a rail", strewn(331, 1, func(*draft) float64 { return 0.01 }), false},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.draw(seed))
			found := false
			for i := range got.Findings {
				found = found || got.Findings[i].Kind == Dropouts && got.Findings[i].has(singleRows)
			}
			if found && !c.want || found && (v.Conclusion == WiringControl || v.Conclusion == FeedbackSensor) {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
			if c.want && !found && v.Conclusion != NoFault {
				t.Errorf("seed %d, %s: none found, %s", seed, c.name, say(got, v))
			}
		}
	}
}
