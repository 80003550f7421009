package analyze

import "testing"

// Whoever drives the shaft anew, after a rest, into the stop on which it lies wants it
// further on. What pushes once more to be sure does so at once, and at either stop.
func TestDrivenIntoTheStopItRestsOn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		rest     float64 // s
		up, down int     // drives anew into either stop
		want     bool
	}{
		{"four times", 2, 4, 0, true},
		{"three times", 2, 3, 0, true},
		{"the other stop once in nine", 2, 8, 1, true},
		{"twice", 2, 2, 0, false},
		{"pushes once more at once", 0.6, 4, 0, false},
		{"both stops alike", 2, 4, 4, false},
		{"the other stop half as often", 2, 4, 2, false},
	} {
		for _, at := range []float64{3.3, 4.5} {
			d := newDraft(3)
			d.hi = at
			d.run(0, 1).run(12, 6)
			for range c.up {
				d.run(0, c.rest).run(12, 0.6)
			}
			d.run(0, 2).run(-12, 6)
			for range c.down {
				d.run(0, c.rest).run(-12, 0.6)
			}
			got, v := look(t, d.run(0, 2).run(12, 2).run(0, 2))
			f := finding(got, Jam)
			// A few times a control does it that has a target at the very stop.
			switch {
			case !c.want && (f != nil || v.Conclusion != NoFault):
				t.Errorf("%s, stop at %.1f V: %s", c.name, at, say(got, v))
			case c.want && (f == nil || f.Form != wantsOn || f.Direction != Up || f.Seen != c.up || v.Conclusion != DoorMechanism && (c.up > 6 || c.up > 3 && at < 4)):
				t.Errorf("%s, stop at %.1f V: %+v; %s", c.name, at, f, say(got, v))
			}
		}
	}
}

// The further inside the sensor's range that stop lies, the likelier something is in
// the way.
func TestWantedBeyondAStopFarInside(t *testing.T) {
	t.Parallel()
	chance := func(at float64) float64 {
		d := newDraft(4)
		d.hi = at
		d.run(0, 1).run(12, 6)
		for range 4 {
			d.run(0, 2).run(12, 0.6)
		}
		_, v := look(t, d.run(0, 2).run(-12, 6).run(0, 1))
		for _, x := range v.Chances {
			if x.Fault == DoorMechanism {
				return x.Probability
			}
		}
		return 0
	}
	if far, near := chance(3.2), chance(4.5); far <= near {
		t.Errorf("the door at %.2f far inside, %.2f near the end of the range", far, near)
	}
}
