package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// Which way is slower, whether the volts are the same and whether the door is on it
// decide between door, motor and one leg of the drive. (Drawn.)
func TestSlowerOneWay(t *testing.T) {
	t.Parallel()
	ways := func(seed uint64, up float64, signOnly bool) *draft {
		d := newDraft(seed)
		d.signOnly = signOnly
		d.speed = func(d *draft, dir float64) float64 {
			if dir > 0 {
				return up
			}
			return 1
		}
		return d
	}
	long := func(d *draft) *draft {
		d.run(0, 1)
		for range 3 {
			d.run(12, 14).run(0, 0.5).run(-12, 7).run(0, 0.5)
		}
		return d
	}
	once := func(seed uint64, up float64) *draft {
		return ways(seed, up, false).run(0, 1).run(12, 12).run(0, 0.5).run(-12, 7).run(0, 0.5)
	}
	lopsided := newDraft(5)
	lopsided.run(0, 1)
	for range 3 {
		lopsided.run(9.5, 7.5).run(0, 0.5).run(-12, 7).run(0, 0.5)
	}
	weak := newDraft(7) // a third and more of the volts is lost, wherever it is driven
	weak.run(0, 1)
	for range 3 {
		weak.run(7, 10.5).run(0, 0.5).run(-12, 7).run(0, 0.5)
	}
	lost := newDraft(8) // more than the switches of a bridge lose
	lost.run(0, 1)
	for range 3 {
		lost.run(8, 9).run(0, 0.5).run(-12, 7).run(0, 0.5)
	}
	rising := newDraft(9) // the supply comes up meanwhile, by a fifth
	rising.run(0, 1)
	for range 2 {
		rising.run(4, 17).run(0, 0.5).run(-9.6, 8).run(0, 0.5)
	}
	for range 2 {
		rising.run(5, 14).run(0, 0.5).run(-12, 7).run(0, 0.5)
	}
	byTurns := newDraft(10) // a control that sets its volts anew each time
	byTurns.run(0, 1)
	for range 2 {
		byTurns.run(6, 12).run(0, 0.5).run(-12, 7).run(0, 0.5).run(10, 8).run(0, 0.5).run(-7.5, 10).run(0, 0.5)
	}
	leg := newDraft(6) // resistance in one leg: fewer volts still at the stop
	leg.run(0, 1)
	for range 3 {
		leg.run(8.5, 7.3).run(4, 1.5).run(0, 0.5).run(-12, 7).run(0, 0.5)
	}
	for _, c := range []struct {
		name       string
		d          *draft
		free       bool
		kind       Kind
		conclusion Fault
	}{
		{"a door's weight", long(ways(1, 0.65, false)), false, "", NoFault},
		{"half the speed", long(ways(2, 0.4, false)), false, UnevenWays, DoorMechanism},
		{"half the speed, volts unknown", long(ways(3, 0.4, true)), false, UnevenWays, CannotTell},
		{"uncoupled, once each way", once(11, 0.5), true, UnevenWays, Motor},
		{"uncoupled, once each way and less so", once(12, 0.7), true, "", NoFault},
		{"uncoupled", long(ways(4, 0.65, false)), true, UnevenWays, Motor},
		{"fewer volts that may be meant", lopsided, false, SupplySag, NoFault},
		{"far fewer volts", weak, false, SupplySag, WiringControl},
		{"volts that no switch loses", lost, false, SupplySag, WiringControl},
		{"far fewer volts while the supply rises", rising, false, SupplySag, WiringControl},
		{"volts by the move", byTurns, false, "", NoFault},
		{"fewer volts, fewer under load", leg, false, SupplySag, WiringControl},
	} {
		o := Defaults()
		o.Free = c.free
		got, err := Examine(c.d.trace(), o)
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		found := Kind("")
		for _, f := range got.Findings {
			if f.Kind == UnevenWays || f.Kind == SupplySag {
				found = f.Kind
				if f.Direction != Up {
					t.Errorf("%s: %s is the slow way", c.name, f.Direction)
				}
			}
		}
		if found != c.kind || v.Conclusion != c.conclusion {
			t.Errorf("%s: found %q; %s", c.name, found, say(got, v))
		}
	}
}

// A load that goes is told from grease that warms by its moment, and from a supply
// that rises by the current. (Drawn.)
func TestLoadThatGoes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		up      float64 // speed up, over that after
		down    float64
		warming bool
		want    bool
		way     Direction
	}{
		{"both ways, unlike", 0.65, 0.8, false, true, None},
		{"a weight: slower up, faster down", 0.6, 1.05, false, true, Up},
		{"grease", 0.65, 0.8, true, false, None},
	} {
		d := newDraft(9)
		d.dt = 0.01
		d.speed = func(d *draft, dir float64) float64 {
			k := c.down
			if dir > 0 {
				k = c.up
			}
			left := 1.0
			switch {
			case c.warming:
				left = max(0, 1-d.t/60)
			case d.t > 40:
				left = 0
			}
			return 1 + (k-1)*left
		}
		d.run(0, 1)
		for range 5 {
			d.run(12, 9).run(0, 0.5).run(-12, 7.5).run(0, 0.5)
		}
		got, err := Examine(d.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		var f *Finding
		for i := range got.Findings {
			if got.Findings[i].Kind == LoadLost {
				f = &got.Findings[i]
			}
		}
		if (f != nil) != c.want || c.want && f.Direction != c.way {
			t.Errorf("%s: %s", c.name, say(got, Judge(got).Verdict))
		}
	}
}

// A door's weight is more of what a motor has left at few volts: at 9 V a sound one may take
// three times as long to lift it, at 12 V twice. (By the motor's equations, see soundUneven.)
func TestWeightAtFewVolts(t *testing.T) {
	t.Parallel()
	at := func(volts float64) float64 {
		w := &work{tr: &signal.Trace{}}
		w.d.amp = volts
		return w.soundUneven()
	}
	for volts, want := range map[float64]float64{14: 2, 12: 2, 10: 2.43, 9: 2.82} {
		if got := at(volts); math.Abs(got-want) > 0.01 {
			t.Errorf("%g V: %.3f times, want %.2f", volts, got, want)
		}
	}
}
