package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// One pass is slow at a place. Uncoupled the shaft runs through the place as it does
// elsewhere, or it is slow there too, or it never came there.
func TestSlowPlaceUncoupled(t *testing.T) {
	t.Parallel()
	slow := func(d *draft, most float64) *draft {
		d.speed = func(d *draft, dir float64) float64 {
			if dir < 0 && d.x > 1.2 && d.x < 1.7 {
				return most
			}
			return 1
		}
		return d
	}
	once := func(seed uint64) *draft {
		d := slow(newDraft(seed), 0.55)
		d.x = 2.5
		return d.run(0, 1).run(12, 5).run(0, 1).run(-12, 7).run(0, 1).run(12, 6.5).run(0, 1)
	}
	for _, c := range []struct {
		name string
		free *draft
		want bool
	}{
		{"even", newDraft(2).sweeps(2), true},
		{"slow there too", slow(newDraft(2), 0.6).sweeps(2), false},
		{"never came there", func() *draft { d := newDraft(2); d.lo, d.x = 1.6, 1.6; return d.sweeps(2) }(), false},
	} {
		r := Judge(examineWith(t, once(1), nil, false), examineWith(t, c.free, nil, true))
		said := false
		for _, e := range append(r.Verdict.For, r.Verdict.Against...) {
			said = said || e.Finding == FreeRun && strings.Contains(e.Text, "what slows it there is the door")
		}
		if said != c.want {
			t.Errorf("%s: said %v, want %v: %s", c.name, said, c.want, r.Verdict.Summary)
		}
	}
}

// A place is slow with the door on in pass after pass. Uncoupled it is as slow, though it
// goes by another name there; or it is slow no more, or slow by much less.
func TestSlowPlaceStaysUncoupled(t *testing.T) {
	t.Parallel()
	slow := func(seed uint64, most float64) *draft {
		d := newDraft(seed)
		d.speed = func(d *draft, dir float64) float64 {
			if d.x > 1.9 && d.x < 2.2 {
				return most
			}
			return 1
		}
		return d.sweeps(3)
	}
	for _, c := range []struct {
		name string
		free float64
		want bool
	}{
		{"as slow", 0.6, true},
		{"slow no more", 1, false},
		{"slow by much less", 0.9, false},
	} {
		coupled, free := examineWith(t, slow(1, 0.55), nil, false), examineWith(t, slow(2, c.free), nil, true)
		if finding(coupled, SlowZone) == nil {
			t.Fatal("no slow zone drawn")
		}
		free.Findings = nil // what it was called there
		r := compareFree([]*Capture{coupled, free})
		if r == nil || slices.Contains(r.Stays, SlowZone) != c.want {
			t.Errorf("%s: %+v", c.name, r)
		}
	}
}

// One move each way with a load that takes more than half of the speed is a heavy door
// even where the two ways are not alike; where only one way is, it may be chance.
func TestHeavyDoorByOneMoveEachWay(t *testing.T) {
	t.Parallel()
	coupled := func(up, down float64) *draft {
		d := newDraft(1)
		d.x = 1.5
		d.speed = func(d *draft, dir float64) float64 {
			if dir > 0 {
				return 1 / up
			}
			return 1 / down
		}
		return d.run(0, 1).run(12, 9).run(0, 1).run(-12, 9).run(0, 1)
	}
	// The current vouches for what one move each way shows of the load.
	drawing := func(d *draft, amps float64, free bool) *Capture {
		tr := d.trace()
		if amps > 0 {
			x := make([]float64, len(d.drive))
			for i, v := range d.drive {
				if math.Abs(v) > 1 {
					x[i] = math.Copysign(amps, v)
				}
				x[i] += 0.003 * d.rng.NormFloat64()
			}
			tr.Current = beside("current", "A", x)
		}
		c, err := Examine(tr, Options{Limits: Defaults().Limits, Free: free})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for _, c := range []struct {
		up, down float64
		amps     float64 // coupled; uncoupled 0.05
		want     bool
	}{{2.2, 3.2, 0, true}, {1.7, 1.8, 0, true}, {1.6, 3, 0, false}, {1.6, 3, 0.16, true}, {1.6, 3, 0.06, false}, {1.1, 1.2, 0, false}} {
		r := Judge(drawing(coupled(c.up, c.down), c.amps, false), drawing(newDraft(2).sweeps(2), math.Min(c.amps, 0.05), true))
		if got := loadSaid(r) != ""; got != c.want {
			t.Errorf("%.1f and %.1f times slower: said %q, want %v", c.up, c.down, loadSaid(r), c.want)
		}
	}
}

// A place is slow with the door on, one way, in pass after pass. What of it the uncoupled
// shaft shows too is the track's, and what is left may be no more than a good door takes.
func TestSlowPlaceLessTheTracksPart(t *testing.T) {
	t.Parallel()
	slow := func(seed uint64, most float64) *draft {
		d := newDraft(seed)
		d.speed = func(d *draft, dir float64) float64 {
			if dir < 0 && d.x > 1.9 && d.x < 2.3 {
				return most
			}
			return 1
		}
		return d.sweeps(3)
	}
	door := func(uncoupled float64) float64 {
		r := Judge(examineWith(t, slow(1, 0.62), nil, false), examineWith(t, slow(2, uncoupled), nil, true))
		for _, c := range r.Verdict.Chances {
			if c.Fault == DoorMechanism {
				return c.Probability
			}
		}
		return 0
	}
	if all, rest := door(1), door(0.83); all < decide || rest > all-0.2 {
		t.Errorf("the door %.2f where the uncoupled shaft is even, %.2f where it shows half of it", all, rest)
	}
}

// Teeth let go under the load of the door: that they keep uncoupled does not speak for the
// door, nor does the slow place that the falls make; a place that binds beside them does.
func TestTeethThatKeepUncoupled(t *testing.T) {
	t.Parallel()
	for seed := range uint64(2) {
		slipping := newDraft(seed)
		slippingAt(slipping, 2.6, 0.12, 3)
		coupled := examined(t, slipping.sweeps(4), false)
		r := Judge(coupled, examined(t, newDraft(seed+10).sweeps(2), true))
		if slips(coupled) != 1 || r.Verdict.Conclusion != Motor || r.Compared != nil && len(r.Compared.Gone) > 0 {
			t.Errorf("seed %d: %d slips; %s", seed, slips(coupled), say(coupled, r.Verdict))
		}
		both := newDraft(seed)
		slippingAt(both, 2.6, 0.12, 3)
		letGo := both.speed
		both.speed = func(d *draft, dir float64) float64 {
			if letGo(d, dir); d.x > 1.2 && d.x < 1.6 {
				return 0.4
			}
			return 1
		}
		r = Judge(examined(t, both.sweeps(4), false), examined(t, newDraft(seed+10).sweeps(2), true))
		if r.Compared == nil || !slices.Contains(r.Compared.Gone, SlowZone) || slices.Contains(r.Compared.Gone, GearSlip) {
			t.Errorf("seed %d: a place that binds beside the teeth: %+v; %s", seed, r.Compared, say(coupled, r.Verdict))
		}
	}
	// At a stop it is the motor that loads the teeth, coupled or not.
	c := &Capture{Span: Interval{0.5, 4.5}, Stops: []Stop{{Direction: Up, Level: 4.5}}}
	f := Finding{Kind: GearSlip, Event: "slip", Places: []Occurrence{{Volts: Interval{4.3, 4.5}}}}
	if c.Findings = []Finding{f}; c.withFalls(&f) {
		t.Error("teeth at a stop taken for teeth under the load of the door")
	}
	c.Findings[0].Places[0].Volts = Interval{2.3, 2.5}
	if !c.withFalls(&f) {
		t.Error("teeth under the load of the door not told")
	}
	if c.Findings[0].Form = waitsAlike; c.withFalls(&f) {
		t.Error("a shaft that waits taken for one that falls back")
	}
}
