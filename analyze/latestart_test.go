package analyze

import "testing"

// offStops draws sweeps from stop to stop in which the shaft stands at first for so many
// seconds in the drives numbered late; in vain is one that moves nothing at all.
func offStops(seconds float64, late ...int) *draft {
	d := newDraft(12)
	from, until := 0.0, 0.0
	d.block = func(d *draft, dir float64) bool { return d.t >= from && d.t < until }
	d.run(0, 1)
	for k := range 8 {
		dir := 1 - 2*float64(k%2)
		for _, l := range late {
			if l == k {
				from, until = d.t, d.t+seconds
			}
		}
		d.run(12*dir, (d.hi-d.lo)/d.rate+1+seconds).run(0, 0.5)
	}
	return d
}

// Off a stop that it mostly leaves at once it starts late now and then: that is not a track
// that ends before the stop, nor a stop that holds.
func TestStartsLateOffAStop(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		seconds float64
		late    []int
		found   bool
	}{
		{"at either stop, now and then", 0.9, []int{2, 5}, true},
		{"as long as play and wound-up gears", 0.3, []int{2, 5}, false},
		{"a half second, at either stop", 0.5, []int{2, 5}, true},
		{"a half second, once", 0.5, []int{5}, false},
		{"a half second, at one stop each time", 0.5, []int{2, 4, 6}, false},
		{"at one stop each time", 0.9, []int{2, 4, 6}, false},
		{"never", 0, nil, false},
	} {
		got, v := look(t, offStops(c.seconds, c.late...))
		if (formed(got, Pauses, doesNotStart) != nil) != c.found || c.found && v.Conclusion != Motor {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A drive in vain at a stop, and a late start from there after it, are one failing: what the
// late start hides is no reason to leave out the other.
func TestStartsInVainOffAStop(t *testing.T) {
	t.Parallel()
	d := newDraft(13)
	from, until := 16.0, 23.0
	d.block = func(d *draft, dir float64) bool { return d.t >= from && d.t < until }
	d.run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 2) // to 16 s
	d.run(12, 2).run(0, 1).run(-12, 2).run(0, 1).run(12, 7).run(0, 1).run(-12, 6).run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1).run(12, 6).run(0, 1)
	got, v := look(t, d)
	if formed(got, Pauses, doesNotStart) == nil || v.Conclusion == NoFault {
		t.Errorf("%s", say(got, v))
	}
}

// With coarse steps a short drive in vain tells by rows that all agree; one whose reading
// goes on by some steps is a start.
func TestStartsInVainOfCoarseSteps(t *testing.T) {
	t.Parallel()
	for _, stands := range []bool{true, false} {
		d := newDraft(14)
		d.x, d.quantum, d.noise, d.rate = 4.46, 0.031, 0.004, 0.18
		dead := false
		d.block = func(d *draft, dir float64) bool { return dead && stands }
		d.run(0, 1).run(-12, 3).run(0, 1)
		for range 2 {
			dead = true
			d.run(-12, 0.78).run(0, 2)
			dead = false
			d.run(-12, 2).run(0, 2)
		}
		d.run(-12, 12).run(0, 1).run(12, 20).run(0, 1).run(-12, 20).run(0, 1)
		got, v := look(t, d)
		if (formed(got, Pauses, doesNotStart) != nil) != stands || stands && v.Conclusion != Motor {
			t.Errorf("stands %v: %s", stands, say(got, v))
		}
	}
}
