package analyze

import (
	"math"
	"testing"
)

// Teeth that let go under a door wound up by a fifth of the travel throw the reading
// back at once, and it swings on a little: the last of those throws is no leap of the
// sensor that lasts. (Drawn.)
func TestLargeSlipIsNoLeapOfTheSensor(t *testing.T) {
	t.Parallel()
	d := newDraft(21)
	d.noise, d.rate = 0.002, 0.5
	d.run(0, 1).run(12, 5).run(0, 1)
	swing := 0.0
	d.read = func(d *draft) float64 {
		swing *= 0.7
		return d.x + swing
	}
	d.speed = func(d *draft, dir float64) float64 {
		if dir < 0 && d.x < 0.9 {
			d.x += 0.9 // lets go
			swing = 0.1
		}
		return 1
	}
	d.run(-12, 14).run(0, 1).run(12, 4)
	got, v := look(t, d)
	if v.Conclusion != Motor {
		t.Errorf("%s", say(got, v))
	}
}

// Asked for one place and for another, with seconds of rest at either, a control hunts
// for nothing; the same reversals one upon the other it does not make for itself.
func TestPlacesInTurnAreNoHunting(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rest float64
		want Fault
	}{{2, NoFault}, {0.15, FeedbackSensor}} {
		d := newDraft(22)
		d.sweeps(1).run(12, 4)
		d.run(-12, 0.4)
		for range 2 {
			for range 2 {
				d.run(0, c.rest).run(-12, 0.7).run(0, c.rest).run(12, 0.7)
			}
			d.run(0, c.rest).run(-12, 0.7).run(0, 5).run(12, 0.7)
		}
		got, v := look(t, d)
		hunting := 0.0
		for _, f := range got.Findings {
			if f.Kind == Hunting {
				hunting = math.Max(hunting, f.Strength)
			}
		}
		if c.want == NoFault && v.Conclusion != NoFault || c.want != NoFault && hunting < 0.5 {
			t.Errorf("rests of %.2f s: hunting %.2f, %s", c.rest, hunting, say(got, v))
		}
	}
}

// A rubbing stretch is slow both ways and its parts hold and let go; no worn track
// slows a shaft. A mean of 0.55 is below the two thirds of a good door, see [goodSlowing].
func TestUnevenMotionWhereItBinds(t *testing.T) {
	t.Parallel()
	d := newDraft(23)
	d.noise, d.quantum = 0.002, 0.0024
	phase := 0.0
	d.speed = func(d *draft, dir float64) float64 {
		if d.x < 2.3 || d.x > 3.0 {
			return 1
		}
		phase += d.dt / 0.04
		if math.Mod(phase, 1) < 0.5 {
			return 0
		}
		return 1.1
	}
	got, v := look(t, d.sweeps(3))
	if v.Conclusion != DoorMechanism {
		t.Errorf("%s", say(got, v))
	}
}

// Driven further on than ever before the reading falls to a rail, and the control does
// not drive the shaft back over the place: the track may end there or a wire have
// opened, and neither may be named. Driven back over it, it is the wire.
func TestRailBeyondThePlacesSeen(t *testing.T) {
	t.Parallel()
	for _, back := range []bool{false, true} {
		d := newDraft(24)
		d.x = 2
		open := false
		d.read = func(d *draft) float64 {
			if open = open || d.x > 3.5; open {
				return 0.01
			}
			return d.x
		}
		d.run(0, 1).run(-12, 1.5).run(0, 1).run(12, 4)
		for range 5 {
			d.run(0, 1).run(-12, 0.4).run(0, 1).run(12, 0.6)
		}
		want := CannotTell
		if back {
			d.run(-12, 6).run(0, 1).run(12, 3).run(0, 1).run(-12, 2)
			want = WiringControl
		}
		got, v := look(t, d)
		if v.Conclusion != want {
			t.Errorf("driven back %v: %s", back, say(got, v))
		}
	}
}

// Coupled the dead spot is met at one place pass after pass; uncoupled, with one loss
// more at rest, the same place is no loose contact.
func TestDeadSpotMetUncoupled(t *testing.T) {
	t.Parallel()
	draw := func(seed uint64, n int, loss bool) *Capture {
		d := newDraft(seed)
		lost := 0
		d.read = func(d *draft) float64 {
			if d.x > 2.4 && d.x < 2.65 || lost > 0 {
				lost--
				return 0.05
			}
			return d.x
		}
		d.sweeps(n)
		if loss {
			lost = 20
			d.run(0, 1)
			lost = 20
			d.run(0, 1)
		}
		opt := Defaults()
		opt.Free = loss
		got, err := Examine(d.trace(), opt)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	coupled, free := draw(25, 2, false), draw(26, 2, true)
	if len(spotsUncoupled([]*Capture{coupled, free})) != 1 {
		t.Errorf("the losses uncoupled are not taken for the dead spot: %s", say(free, Judge(free).Verdict))
	}
	v := Judge(coupled, free).Verdict
	if v.Conclusion != FeedbackSensor {
		t.Errorf("%s\n%s", say(coupled, v), say(free, v))
	}
}

// Of two worn places on one track the one that fails now and then is no loose contact
// because the other one fails each time.
func TestTwoDeadSpots(t *testing.T) {
	t.Parallel()
	d := newDraft(27)
	pass, was := 0, 0.0
	d.read = func(d *draft) float64 {
		if v := math.Copysign(1, d.volts); d.volts != 0 && v != was {
			pass, was = pass+1, v
		}
		if d.x > 1.4 && d.x < 1.6 || d.x > 3.2 && d.x < 3.7 && pass/2%2 == 1 {
			return 0.1
		}
		return d.x
	}
	got, v := look(t, d.sweeps(6))
	n := 0
	for _, f := range got.Findings {
		if f.Kind == DeadSpot && (math.Abs(f.Volts.Mid()-1.5) < 0.1 || math.Abs(f.Volts.Mid()-3.45) < 0.1) {
			n++
		}
	}
	if v.Conclusion != FeedbackSensor || n != 2 {
		t.Errorf("%d of 2 dead spots: %s", n, say(got, v))
	}
}
