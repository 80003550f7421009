package analyze

import "testing"

// A reading that lies at a rail makes a control drive one way only: that is one event, also
// where its noise reaches beyond what counts as a rail. (Drawn.)
func TestRailDrivesOneWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		level float64 // V
		rail  bool
	}{
		{"at the rail", 0.05, true},
		{"near enough, in its noise", 0.15, true},
		{"beyond", 0.5, false},
	} {
		d := newDraft(2)
		d.noise = 0.03
		d.read = func(*draft) float64 { return c.level }
		d.run(0, 1)
		for range 6 {
			d.run(-12, 2).run(0, 3)
		}
		got, v := lookAt(t, d.trace())
		rail, half := finding(got, AtRail), finding(got, HalfDrive)
		if half == nil || (rail != nil) != c.rail || c.rail && (rail.Event != half.Event || v.Conclusion != WiringControl || v.Probability > 0.9) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
