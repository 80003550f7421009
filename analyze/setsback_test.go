package analyze

import "testing"

// snapsBack draws sweeps in which a tooth lets go as the shaft comes up to 3 V, so many
// times, and the door pulls the shaft back by 0.5 V at once: the motor climbs anew.
func snapsBack(times int) *draft {
	d := newDraft(35)
	left := 0
	d.read = func(d *draft) float64 {
		if d.volts > 0 && d.x > 3 && left > 0 {
			d.x -= 0.5
			left--
		}
		return d.x
	}
	d.run(0, 1)
	for range 3 {
		left = times
		d.run(12, 6+0.7*float64(times)).run(0, 1).run(-12, 6).run(0, 1)
	}
	return d
}

// Who is beyond the edge of an open track must be driven back over it before he can go out
// anew: leaps back again and again under one drive are a gear's.
func TestLeapsBackUnderOneDriveAreNoEdge(t *testing.T) {
	t.Parallel()
	got, v := look(t, snapsBack(3))
	if formed(got, DeadSpot, openBeyond) != nil || v.Conclusion == FeedbackSensor {
		t.Errorf("%s", say(got, v))
	}
}

// setsOutLate draws drives off a place midway, so many of which stand until 15 ms before the
// drive goes; the shaft runs on by its momentum. A seal that pushes back as the drive goes
// moves it the other way.
func setsOutLate(late int, back bool) *draft {
	d := newDraft(36)
	d.rate = 3
	held := 0.0
	d.block = func(d *draft, dir float64) bool { return d.t < held }
	d.run(0, 1).run(12, 2).run(0, 1).run(-12, 2).run(0, 1).run(12, 0.7).run(0, 1)
	for k := range 4 {
		dir := 12 - 24*float64(k%2)
		if k < late {
			held = d.t + 1.485
			d.run(dir, 1.5)
			for _, v := range []float64{8, 5, 3, 1} { // runs out
				d.run(dir*v/12, 0.02)
				for i := len(d.drive) - 4; i < len(d.drive); i++ {
					d.drive[i] = 0
				}
			}
		} else if back {
			held = d.t + 1.5
			d.run(dir, 1.5)
			d.x -= dir / 12 * 0.15
		} else {
			d.run(dir, 0.35)
		}
		d.run(0, 1)
	}
	return d
}

// A shaft that sets out as the drive is about to go did not start all the while before.
func TestSetsOutInTheLastMoment(t *testing.T) {
	t.Parallel()
	got, v := look(t, setsOutLate(3, false))
	if f := formed(got, Pauses, doesNotStart); f == nil || showsKind(got, DriveShift) || v.Conclusion == NoFault {
		t.Errorf("%s", say(got, v))
	}
	got, v = look(t, setsOutLate(0, false))
	if formed(got, Pauses, doesNotStart) != nil {
		t.Errorf("at once: %s", say(got, v))
	}
}
