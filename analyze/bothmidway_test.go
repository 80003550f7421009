package analyze

import "testing"

// A lead that loses its way to ground amid drives follows the other, for moments of any
// length, and the control's own ends look otherwise. A control that brakes or rests with
// both leads up, one that goes by its clock and a hand at one lead do not show that. (Drawn.)
func TestBothLeadsUpMidway(t *testing.T) {
	t.Parallel()
	// broken breaks each of four drives off for those times, with both leads at so many
	// volts, and ends each with both at others for a while.
	broken := func(volts, ends, rests float64, breaks ...float64) func(l *leads) {
		return func(l *leads) {
			l.drive(0, rests, 1)
			for k := range 4 {
				v := 12 - 24*float64(k%2)
				for _, b := range breaks {
					l.drive(v, 0, 0.7).drive(0, volts, b)
				}
				l.drive(v, 0, 4).drive(0, ends, 0.4).drive(0, rests, 1)
			}
		}
	}
	for _, c := range []struct {
		name string
		draw func(l *leads)
		seen int
	}{
		{"at once and for long", broken(11.8, 0, 0, 0.05, 0.6, 0.25, 0.04), 16},
		{"by hand", broken(11.8, 0, 0, 0.25, 0.6, 1.1), 0},
		{"by a clock", broken(11.8, 0, 0, 0.25, 0.05, 0.25, 0.25), 0},
		{"braked so at its ends", broken(11.8, 11.8, 0, 0.05, 0.6, 0.25, 0.04), 0},
		{"rests so", broken(11.8, 11.8, 11.8, 0.05, 0.6, 0.25, 0.04), 0},
		{"both down", broken(0, 0, 0, 0.05, 0.6, 0.25, 0.04), 0},
		{"one way up, the other down", func(l *leads) {
			l.drive(0, 0, 1)
			for range 3 {
				for _, v := range []float64{12, -12} {
					for _, b := range []float64{0.05, 0.6, 0.25} {
						l.drive(v, 0, 0.7).drive(0, 5.9+v*5.9/12, b)
					}
					l.drive(v, 0, 4).drive(0, 0, 1)
				}
			}
		}, 9},
	} {
		l := &leads{draft: newDraft(5)}
		l.dt = 0.005
		c.draw(l)
		got, v := lookAt(t, l.trace())
		f := formed(got, Ignored, bothMidway)
		if (f != nil) != (c.seen > 0) || f != nil && (f.Seen != c.seen || v.Conclusion != WiringControl) || f == nil && v.Conclusion == WiringControl {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
