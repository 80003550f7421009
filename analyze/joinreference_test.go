package analyze

import (
	"math"
	"testing"
)

// Where the reference goes the reading goes: one event. Where only the reading goes, the
// reference's own faults elsewhere explain nothing.
func TestReadingGoneWithItsReference(t *testing.T) {
	t.Parallel()
	gone := func(s float64) bool { return s > 1 && s < 13 && math.Mod(s, 0.83) < 0.2 }
	later := func(s float64) bool { return s > 24 && s < 36 && math.Mod(s, 0.83) < 0.2 }
	for _, c := range []struct {
		name     string
		ref      func(s float64) bool
		wiper    func(s float64) bool
		together bool
	}{
		{"together", gone, func(float64) bool { return false }, true},
		{"apart", later, gone, false},
	} {
		d := newDraft(4)
		d.read = func(d *draft) float64 {
			if c.wiper(d.t) {
				return 0
			}
			return d.x
		}
		got := fed(t, d.sweeps(3), func(s float64) float64 {
			if c.ref(s) {
				return 0
			}
			return 5
		})
		var losses, own float64
		for i := range got.Findings {
			if f := &got.Findings[i]; f.Kind == Dropouts || f.Kind == DeadSpot || f.Kind == AtRail {
				losses = math.Max(losses, f.Strength)
				if f.Event != "reference" {
					own = math.Max(own, f.Strength)
				}
			}
		}
		if c.together && (own > 0.3 || !got.shows(RefLoss)) || !c.together && own < 0.5 {
			t.Errorf("%s: losses %.2f, of their own %.2f, reference %v", c.name, losses, own, got.shows(RefLoss))
		}
	}
}
