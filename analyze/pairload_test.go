package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// jerky lets the speed change now and then between more and less than usual: friction
// of a door that takes the shaft's twist up and gives it back. Its jerks are too short
// and too uneven to stand out by themselves.
func jerky(d *draft, depth float64) *draft {
	left, k := 0.0, 1+depth
	d.speed = func(d *draft, dir float64) float64 {
		if dir == 0 {
			return 1
		}
		if left -= d.dt; left <= 0 {
			left, k = 0.05+0.15*d.rng.Float64(), 2-k
		}
		return k
	}
	return d
}

// pulsed takes the drive away from one row in six: the shaft was given that much more
// speed.
func (d *draft) pulsed() *draft {
	for i := 0; i < len(d.drive); i += 6 {
		d.drive[i] = 0.05 * d.rng.NormFloat64()
	}
	return d
}

// loadSaid is what comparing a coupled with an uncoupled capture says of the door's
// load, "" for nothing.
func loadSaid(r *Report) string {
	all := append(slices.Clone(r.Verdict.For), r.Verdict.Against...)
	i := slices.IndexFunc(all, func(e Evidence) bool {
		return e.Finding == FreeRun && (strings.Contains(e.Text, "speed swings") || strings.Contains(e.Text, "times slower"))
	})
	if i < 0 {
		return ""
	}
	return all[i].Text
}

// atVolts draws sweeps of an actuator slower by a factor than another one at these volts: a
// motor's speed goes with the volts above those that only turn it, 2.4 here.
func atVolts(volts, slower float64) func(seed uint64) *draft {
	return func(s uint64) *draft {
		d := newDraft(s)
		d.rate *= (volts - 2.4) / (12 - 2.4) * 12 / volts / slower
		d.run(0, 1)
		for range 3 {
			full := 1 + 4/d.rate*12/volts
			d.run(volts, full).run(0, 0.5).run(-volts, full).run(0, 0.5)
		}
		return d
	}
}

// What the door does to a shaft of which nothing is odd by itself shows only beside the
// uncoupled one.
func TestLoadOfTheDoor(t *testing.T) {
	t.Parallel()
	at := atVolts
	upOnly := func(s uint64) *draft {
		d := newDraft(s)
		d.speed = func(d *draft, dir float64) float64 {
			if dir > 0 {
				return 0.63
			}
			return 1
		}
		return unhurried(d, 3)
	}
	even := func(s uint64) *draft { return newDraft(s).sweeps(3) }
	uneven := func(s uint64) *draft { return jerky(newDraft(s), 0.6).sweeps(3) }
	pulsed := func(s uint64) *draft { return jerky(newDraft(s), 0.7).sweeps(3).pulsed() }
	for _, c := range []struct {
		name          string
		coupled, free func(seed uint64) *draft
		says          string
		want          []Fault
	}{
		{"swings with the door only", uneven, even, "speed swings", []Fault{DoorMechanism}},
		{"swings without it as well", uneven, uneven, "", []Fault{NoFault}},
		{"swings, pulsed drive", pulsed, even, "", nil},
		{"twice as slow, pulsed drive", func(s uint64) *draft { return at(12, 2)(s).pulsed() }, even, "", nil},
		{"twice as slow", at(12, 2), even, "2.0 times slower than uncoupled both ways", []Fault{DoorMechanism, CannotTell}},
		{"1.6 times slower", at(12, 1.6), even, "1.6 times slower than uncoupled both ways", []Fault{CannotTell}},
		{"1.3 times slower", at(12, 1.3), even, "", []Fault{NoFault}},
		{"1.5 times slower at 9 V, 1.3 at 12 V", at(9, 1.55), at(9, 1), "", []Fault{NoFault}},
		{"1.45 times slower at 14.4 V, 1.6 at 12 V", at(14.4, 1.45), at(14.4, 1), "times slower", []Fault{CannotTell}},
		{"slower one way only", upOnly, even, "", []Fault{NoFault}},
		{"fewer volts explain it", at(8, 1.1), at(12, 1), "", []Fault{NoFault}},
		{"fewer volts uncoupled hide it", at(12, 1.8), at(8, 1), "1.8 times slower", []Fault{DoorMechanism, CannotTell}},
	} {
		for seed := range uint64(2) {
			r := Judge(examined(t, c.coupled(seed), false), examined(t, c.free(seed+10), true))
			got := loadSaid(r)
			if c.says == "" && got != "" || !strings.Contains(got, c.says) || len(c.want) > 0 && !slices.Contains(c.want, r.Verdict.Conclusion) {
				t.Errorf("%s, seed %d: %q; %s", c.name, seed, got, say(r.Captures[0], r.Verdict))
			}
			if r.DragsAllAlong() != strings.Contains(got, "times slower") {
				t.Errorf("%s, seed %d: drags all along %v; %q", c.name, seed, r.DragsAllAlong(), got)
			}
		}
	}
}

// A load takes the same torque at any supply, and so more of the speed where the volts are
// few: what a good door may take is asked at 12 V.
func TestDoorLoadAtLowSupply(t *testing.T) {
	t.Parallel()
	r := Judge(examined(t, atVolts(9, 1.55)(1), false), examined(t, atVolts(9, 1)(2), true))
	for _, want := range []string{"(35 % slower)", "at 12 V it would keep 7", "no more than a good one takes"} {
		if !contains(r.DoorLoad, want) {
			t.Errorf("%q lacks %q", r.DoorLoad, want)
		}
	}
	// Without the volts nothing is known of 12 V.
	if p := (wayPaces{with: 0.6, without: 1}); p.keeps() != 0.6 {
		t.Error(p.keeps())
	}
	for _, c := range []struct{ factor, volts, want float64 }{{2, 12, 2}, {1, 9, 1}, {2, 24, 2}, {1.5, 7.2, 1.2}} {
		if got := slowerAt12(c.factor, c.volts); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g times at %g V: %g at 12 V, want %g", c.factor, c.volts, got, c.want)
		}
	}
	if got := slowerAt12(20, 15); !math.IsInf(got, 1) {
		t.Error(got)
	}
}

// A travel that takes many times the usual is the door's where the actuator, at the same
// drive, is as fast as usual without it, and the load the same both ways; else it may be a
// motor's with little strength left.
func TestLongTravelByTheDoor(t *testing.T) {
	t.Parallel()
	ways := func(up, down float64) func(seed uint64) *draft {
		return func(seed uint64) *draft {
			d := newDraft(seed)
			d.speed = byWay(up, down)
			d.run(0, 1)
			for range 2 {
				d.run(12, 1+4.2/d.rate/up).run(0, 0.5).run(-12, 1+4.2/d.rate/down).run(0, 0.5)
			}
			return d
		}
	}
	for _, c := range []struct {
		name          string
		coupled, free func(seed uint64) *draft
		byLoad        bool
		want          []Fault
	}{
		{"a fifth of the speed both ways", ways(.11, .12), ways(.6, .6), true, []Fault{DoorMechanism}},
		{"slow uncoupled as well", ways(.08, .08), ways(.17, .17), false, []Fault{Motor}},
		{"three fifths of the speed", ways(.1, .1), ways(.17, .17), false, []Fault{Motor}},
		{"slower one way than the other", ways(.06, .25), ways(.6, .6), false, []Fault{Motor, CannotTell, DoorMechanism}},
	} {
		for seed := range uint64(2) {
			now := []*Capture{examined(t, c.coupled(seed), false), examined(t, c.free(seed+10), true)}
			r := Judge(now...)
			if got := slowByLoad(now); got != c.byLoad || !now[0].showsForm(WeakDrive, againstUsual) || !slices.Contains(c.want, r.Verdict.Conclusion) {
				t.Errorf("%s, seed %d: by load %v; %s", c.name, seed, got, say(now[0], r.Verdict))
			}
			if got := strings.Contains(r.Verdict.Summary, "load of the door that slows it"); got != c.byLoad {
				t.Errorf("%s, seed %d: %q", c.name, seed, r.Verdict.Summary)
			}
		}
	}
}
