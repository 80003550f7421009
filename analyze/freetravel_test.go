package analyze

import (
	"strings"
	"testing"
)

// What a jam leaves of the coupled travel is no measure of its place where the
// uncoupled capture shows the whole way.
func TestJamInTheUncoupledTravel(t *testing.T) {
	t.Parallel()
	blocked := func(from float64) *Capture {
		d := newDraft(1)
		d.block = func(d *draft, dir float64) bool { return dir > 0 && d.t > from && d.x >= 3.1 }
		c := examined(t, d.sweeps(4), false)
		c.Source = "coupled"
		return c
	}
	free := examined(t, newDraft(2).sweeps(3), true)
	for _, c := range []struct {
		name string
		from float64
		want string // 2.6 of 4 V from stop to stop
	}{{"from the start", 0, "65 % of the uncoupled travel"}, {"after a while", 14, "(65 % of the uncoupled travel)"}} {
		coupled := blocked(c.from)
		v := Judge(coupled, free).Verdict
		said := v.Summary
		for _, e := range append(v.For, v.Against...) {
			if e.Finding == Jam {
				said += " " + e.Text
			}
		}
		if v.Conclusion != DoorMechanism || !strings.Contains(v.Summary, c.want) || strings.Contains(said, "of the span") {
			t.Errorf("%s: %s: %s", c.name, v.Conclusion, said)
		}
		if alone := Judge(coupled).Verdict; strings.Contains(alone.Summary, "uncoupled") {
			t.Errorf("%s, alone: %s", c.name, alone.Summary)
		}
	}
}
