package analyze

import (
	"testing"

	"threewire/signal"
)

// What stands in a door's way stands at one place; a leg of the drive that is dead
// is so everywhere, and what is left of it may show as a volt or less.
func TestOneWayDrawn(t *testing.T) {
	t.Parallel()
	upOnly := func(s uint64) *draft {
		d := newDraft(s)
		d.signOnly, d.x = true, 1.5
		d.speed = func(_ *draft, dir float64) float64 { return max(0, dir) }
		return d.run(0, 1)
	}
	checkDrawn(t, []drawnCase{
		{"no drive down reaches it, wherever it is", func(s uint64) *draft {
			d := upOnly(s)
			for range 5 {
				d.run(12, 0.5).run(0, 0.7).run(-12, 0.8).run(0, 0.7).run(-12, 0.8).run(0, 0.7)
			}
			return d
		}, WiringControl, OneWay},
		{"down comes with the drop of a diode", func(s uint64) *draft {
			d := newDraft(s)
			d.x = 1.5
			d.speed = func(_ *draft, dir float64) float64 { return max(0, dir) }
			d.run(0, 1).run(12, 0.5).run(0, 1)
			for range 9 {
				d.run(-0.7, 0.8).run(0, 1.2)
			}
			return d
		}, WiringControl, OneWay},
	}, OneWay)
}

// Somebody who asks for warmer only drives one way as well, and a few rows are no
// drive: neither is a leg that is dead.
func TestOneWayByHand(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.x = 2
		d.run(0, 1)
		for range 8 {
			d.run(12, 1).run(0, 1)
		}
		c, v := look(t, d)
		if f := finding(c, HalfDrive); v.Conclusion == WiringControl || f == nil || !contains(f.Because, "drive it the other way") {
			t.Errorf("seed %d, warmer only: %s", seed, say(c, v))
		}
		d = newDraft(seed)
		d.run(0, 1).run(12, 6)
		for range 5 {
			d.run(0, 1).run(12, 1.5)
		}
		if c, v = look(t, d); v.Conclusion != WiringControl {
			t.Errorf("seed %d, against one stop: %s", seed, say(c, v))
		}
		// Sent past its stop once, and pulsed there: one command, and no reason for another.
		d = newDraft(seed)
		d.run(0, 1).run(12, 5.5)
		for range 30 {
			d.run(0, 0.2).run(12, 0.2)
		}
		if c, v = look(t, d); v.Conclusion == WiringControl {
			t.Errorf("seed %d, pulsed against one stop: %s", seed, say(c, v))
		}
		// Through a converter of few steps each nudge seems to move nothing.
		d = newDraft(seed)
		d.dt, d.quantum, d.noise, d.x = 0.02, 5.0/64, 0.002, 1
		d.run(0, 1)
		for range 40 {
			d.run(12, 0.1).run(0, 0.9)
		}
		if c, v = look(t, d); v.Conclusion == WiringControl || !contains(finding(c, HalfDrive).Because, "drive it the other way") {
			t.Errorf("seed %d, nudged through a coarse converter: %s", seed, say(c, v))
		}
		d = newDraft(seed)
		d.dt, d.x = 0.1, 2.5
		for range 4 {
			d.run(12, 0.1).run(0, 0.1)
		}
		d.run(12, 0.1)
		if c, v = look(t, d); finding(c, HalfDrive) != nil || v.Conclusion != CannotTell {
			t.Errorf("seed %d, nine rows: %s", seed, say(c, v))
		}
		for _, s := range v.Unknown {
			if contains(s, "did not move") {
				t.Errorf("seed %d, nine rows: %q", seed, s)
			}
		}
	}
}

// A drive of one polarity is told by the lead, where both were logged, and by the way.
func TestOneSidedDriveNamesItsLead(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		leads bool
		sense int
		form  string
		want  string
	}{
		{false, 0, "positive only", "Driven one way only: all 5 moves with positive drive; the other polarity never comes."},
		{true, 1, "positive only", "Driven one way only: all 5 moves with lead A above lead B, going up; the other polarity never comes."},
		{true, 1, "negative only", "Driven one way only: all 5 moves with lead B above lead A, going down; the other polarity never comes."},
	} {
		w := &work{tr: newDraft(1).run(0, 1).trace(), sense: c.sense}
		if c.leads {
			w.tr.Columns = []signal.Column{{Role: signal.LeadA}, {Role: signal.LeadB}}
		}
		if got := w.title(&Finding{Kind: HalfDrive, Form: c.form, Seen: 5}); got != c.want {
			t.Errorf("%q, expected %q", got, c.want)
		}
	}
}
