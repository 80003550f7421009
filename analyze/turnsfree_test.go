package analyze

import (
	"math"
	"testing"
)

// A shaft that waits at a place one way, while its motor draws what it draws on the way,
// is not held: teeth let go there, also where only the polarity of the drive is known. A
// door that catches raises the current, and a place that waits both ways may be the
// track's. (Drawn.)
func TestCurrentOfAShaftThatWaitsOneWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		amps     float64 // while it waits
		bothWays bool
		slips    bool
		want     Fault
	}{
		{"teeth let go", 0.12, false, true, Motor},
		{"door catches", 0.5, false, false, DoorMechanism},
		{"both ways", 0.12, true, false, NoFault},
	} {
		for _, signOnly := range []bool{false, true} {
			a := newAmmeter(6)
			a.signOnly = signOnly
			came, held, pass := 0.0, 0.0, 0
			a.block = func(d *draft, dir float64) bool {
				if dir != came {
					came, held = dir, 0
					pass++
				}
				longest := 0.3 + 0.05*float64(pass*5%7)
				if (dir < 0 || c.bothWays) && math.Abs(d.x-2.2) < 0.01 && held < longest {
					held += d.dt
					return true
				}
				return false
			}
			a.amps = func(d *draft) float64 {
				if d.x == a.before.x && d.x > d.lo+0.1 && d.x < d.hi-0.1 {
					return c.amps
				}
				return math.NaN()
			}
			a.sweeps(4)
			got, err := Examine(a.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			f, v := finding(got, GearSlip), Judge(got).Verdict
			if waits := f != nil && f.Form == turnsAndGoesOn; waits != c.slips || c.want != NoFault && v.Conclusion != c.want {
				t.Errorf("%s, sign only %t: %s", c.name, signOnly, say(got, v))
			}
		}
	}
}

// A tooth that lets go one by one in one pass, and shows as a stand in the others, is one
// event.
func TestStandsAndFallsAtOnePlaceAreOne(t *testing.T) {
	t.Parallel()
	w := &work{tr: newDraft(1).run(0, 0.1).trace(), span: Interval{0.5, 4.5}, found: []Finding{
		{Kind: GearSlip, Form: huntMidTravel, Event: "slip", Volts: Interval{2.17, 2.24}},
		{Kind: GearSlip, Form: turnsAndGoesOn, Event: "stands", Volts: Interval{2.19, 2.21}},
		{Kind: GearSlip, Form: huntHighEnd, Event: "elsewhere", Volts: Interval{4.3, 4.4}},
	}}
	w.oneWithSlip(&w.found[1])
	if w.found[0].Event != "stands" || w.found[2].Event != "elsewhere" {
		t.Errorf("events %q and %q", w.found[0].Event, w.found[2].Event)
	}
}

// Where the track tells little of the way, a late start and a stand in that band are the band's;
// those elsewhere, and stands all along the way, are not.
func TestStandsInABandWithoutLoadAreTheBand(t *testing.T) {
	t.Parallel()
	w := &work{tr: newDraft(1).run(0, 0.1).trace(), span: Interval{0.5, 4.5}, found: []Finding{
		{Kind: SlowZone, Event: "band", Strength: 1, Volts: Interval{3.6, 3.84}},
		{Kind: Pauses, Event: "late", Strength: 1, Volts: Interval{3.844, 3.844}},
		{Kind: Pauses, Event: "elsewhere", Strength: 1, Volts: Interval{2, 2.1}},
		{Kind: Pauses, Event: "all along", Strength: 1, Volts: Interval{1, 3.7}},
	}}
	w.oneWithBand(&w.found[0])
	for i, want := range []string{"band", "band", "elsewhere", "all along"} {
		if f := w.found[i]; f.Event != want || (f.Strength < 1) != (i == 1) {
			t.Errorf("%d: event %q, strength %.2f", i, f.Event, f.Strength)
		}
	}
}
