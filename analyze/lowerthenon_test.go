package analyze

import "testing"

// Fewer volts both ways from one rest on, for whole sweeps, are a feed that gives way; a
// control that makes small corrections by fewer volts is none, nor one that has fewer one
// way.
func TestFewerVoltsFromThenOn(t *testing.T) {
	t.Parallel()
	sweeps := func(d *draft, up, down, s float64) *draft {
		return d.run(up, s).run(0, 1).run(-down, s).run(0, 1)
	}
	for _, c := range []struct {
		name  string
		then  func(d *draft) *draft
		found bool
	}{
		{"sweeps at two thirds", func(d *draft) *draft { return sweeps(d, 8, 8, 9) }, true},
		{"sweeps at nine tenths", func(d *draft) *draft { return sweeps(d, 11, 11, 7) }, false},
		{"small corrections at two thirds", func(d *draft) *draft {
			return sweeps(sweeps(sweeps(d, 8, 8, 1), 8, 8, 1), 8, 8, 1)
		}, false},
		{"one way", func(d *draft) *draft { return sweeps(d, 12, 8, 9) }, false},
	} {
		d := newDraft(34)
		d.run(0, 1)
		got, v := look(t, c.then(sweeps(sweeps(d, 12, 12, 6), 12, 12, 6)))
		if (formed(got, SupplySag, lowerFromThenOn) != nil) != c.found || c.found && v.Conclusion == NoFault {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
