package analyze

import "testing"

// One leg of the drive gives way for good, in the midst of a drive, while the other polarity
// keeps its volts. A supply that falls takes both ways with it, and a control that makes a
// few corrections softly, or gives full volts again, has lost nothing. (Drawn.)
func TestOnePolarityGetsFewerVoltsSince(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		up    func(k int) float64 // V of the k-th short drive up
		down  func(k int) float64 // of the drive down after it
		found bool
	}{
		{"a leg gives way", volts(12, 5, 1), volts(12, 12, 0), true},
		{"a leg loses a diode's drop", volts(12, 11.3, 1), volts(12, 12, 0), false},
		{"the supply falls", volts(12, 5, 1), volts(12, 5, 1), false},
		{"the last corrections are soft", volts(12, 5, 4), volts(12, 12, 0), false},
		{"the last one alone is soft", func() func(int) float64 {
			asked := 0
			return func(int) float64 {
				if asked++; asked%11 == 0 {
					return 5
				}
				return 12
			}
		}(), volts(12, 12, 0), false},
		{"soft for a while", func(k int) float64 {
			if k > 0 && k < 4 {
				return 5
			}
			return 12
		}, volts(12, 12, 0), false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.dt, d.rate = 0.01, 0.8
			d.run(0, 1)
			for k := range 5 {
				d.run(c.up(k), 1.5)
				if k == 0 { // in the midst of it
					d.run(c.up(1), 1)
				}
				d.run(0, 0.7).run(c.up(k), 1.5).run(0, 0.7).run(-c.down(k), 3).run(0, 0.7)
			}
			got, v := look(t, d)
			f := formed(got, SupplySag, onePolarity)
			if since := f != nil && f.has(fewerSince); since != c.found || c.found && (v.Conclusion != WiringControl || f.Direction != Up) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// volts gives a drive's volts before its n-th time and from then on.
func volts(before, after float64, n int) func(int) float64 {
	return func(k int) float64 {
		if k < n {
			return before
		}
		return after
	}
}
