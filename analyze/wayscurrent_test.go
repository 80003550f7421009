package analyze

import "testing"

// A way that is slower is the motor's where the current tells that no load makes it so:
// on no more current, or with another current of the held motor. A load that takes its
// current, and a weight in a channel that shows no loads, are none of it. (Drawn.)
func TestWhatTheCurrentTellsOfASlowerWay(t *testing.T) {
	t.Parallel()
	draw := func(seed uint64, up, running, held, starts float64) *ammeter {
		a := newAmmeter(seed)
		a.speed = func(_ *draft, dir float64) float64 {
			if dir > 0 {
				return up
			}
			return 1
		}
		was := 0.0
		a.amps = func(d *draft) float64 {
			stands := d.x == was
			was = d.x
			a.held = 0.5
			if d.volts > 0 {
				a.held = starts
			}
			switch {
			case stands && d.volts > 0:
				return held
			case stands:
				return 0.5
			case d.volts > 0:
				return running
			}
			return 0.12
		}
		a.run(0, 1)
		for range 3 {
			a.run(12, 5.5/up+1).run(0, 0.5).run(-12, 6.5).run(0, 0.5)
		}
		return a
	}
	for _, c := range []struct {
		name              string
		up, running, held float64 // of the slower way; 0.12 and 0.5 A the other
		starts            float64
		form              string
		found             bool
		want              Fault
	}{
		{"no more current", 0.58, 0.12, 0.5, 0.5, noLoadMore, true, Motor},
		{"less current, held on less as well", 0.54, 0.08, 0.28, 0.28, heldOnLess, true, Motor},
		{"held on less, a little slower", 0.8, 0.12, 0.3, 0.3, heldOnLess, true, Motor},
		{"a load and its current", 0.6, 0.27, 0.5, 0.5, "", false, NoFault},
		{"a weight that the current does not show", 0.75, 0.12, 0.5, 0.5, "", false, NoFault},
		{"gives at one stop, and runs as fast", 1, 0.12, 0.33, 0.5, "", false, anyOther},
		{"a door that drags", 0.4, 0.35, 0.5, 0.5, "", true, DoorMechanism},
	} {
		for seed := range uint64(2) {
			got, err := Examine(draw(seed, c.up, c.running, c.held, c.starts).trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			v := Judge(got).Verdict
			found := false
			for _, f := range got.Findings {
				if f.Kind == UnevenWays {
					found = true
					if f.Form != c.form || f.Direction != Up {
						t.Errorf("%s, seed %d: %q %s", c.name, seed, f.Form, f.Direction)
					}
				}
			}
			if found != c.found || c.want != anyOther && v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

// One run each way tells it too where the way takes as long as no sound load makes it and the
// current is no more for it. (Drawn.)
func TestOneRunEachWayWithItsCurrent(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name        string
		up, running float64
		want        bool
	}{
		{"no more current", 0.45, 0.12, true},
		{"a load and its current", 0.45, 0.3, false},
		{"not as slow", 0.62, 0.12, false},
	} {
		a := newAmmeter(5)
		a.speed = func(_ *draft, dir float64) float64 {
			if dir > 0 {
				return c.up
			}
			return 1
		}
		a.amps = func(d *draft) float64 {
			switch {
			case d.volts > 0 && d.x == d.hi || d.volts < 0 && d.x == d.lo:
				return 0.5
			case d.volts > 0:
				return c.running
			}
			return 0.12
		}
		a.run(0, 1).run(12, 5.5/c.up+1).run(0, 0.5).run(-12, 6.5).run(0, 0.5)
		got, v := lookAt(t, a.trace())
		if told := formed(got, UnevenWays, noLoadMore) != nil; told != c.want || told && v.Conclusion != Motor {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
