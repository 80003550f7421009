package analyze

import "testing"

// The reading that stands while the circuit is open, and leaps as the current comes back
// through a ground it shares, is no signal that was lost; one that leaves for a level of its
// own is.
func TestReadingWhileTheCircuitIsOpen(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		volts  Interval
		joined bool
	}{
		{"no further than the shaft goes", Interval{2.00, 2.06}, true},
		{"to a rail", Interval{0.02, 2.00}, false},
	} {
		w := &work{rate: [2]float64{1, 1}, tol: 0.01}
		open := Occurrence{Interval{3, 3.4}, Interval{2, 2}, Up}
		loss := Occurrence{Interval{3.3, 3.4}, c.volts, Up}
		w.found = []Finding{
			{Kind: Broken, Form: brokenNoCurrent, Event: "motor circuit", Strength: 1, Places: []Occurrence{open}},
			{Kind: Dropouts, Event: "drop-outs", Strength: 1, Places: []Occurrence{loss}},
		}
		w.joinBroken()
		if got := w.found[1].Event == w.found[0].Event; got != c.joined {
			t.Errorf("%s: joined %t", c.name, got)
		}
	}
}
