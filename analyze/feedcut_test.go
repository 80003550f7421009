package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threewire/signal"
)

// dozing drives up and down three times, with a long rest after each pair; the reading
// falls to nothing from `off` s after each rest's begin until `back` s before its end.
// With a reference it is logged, and falls with the reading where fed is false.
func dozing(seed uint64, off, back float64, reference, fed bool) *signal.Trace {
	d := newDraft(seed)
	d.dt = 0.01
	d.x = 2
	const rest = 8.0
	var rests []float64
	at, volts := 1.0, 1.0
	for range 3 {
		at += 12.5
		rests = append(rests, at)
		at += rest
	}
	var refs []float64
	d.read = func(d *draft) float64 {
		cut := slices.ContainsFunc(rests[:2], func(r float64) bool { return d.t >= r+off && d.t < r+rest-back })
		volts += (boolOf(!cut) - volts) * 0.5
		refs = append(refs, 5*max(volts, boolOf(fed)))
		return volts * d.x
	}
	d.run(0, 1)
	for range 3 {
		d.run(12, 6).run(0, 0.5).run(-12, 6).run(0, rest)
	}
	tr := d.trace()
	if reference {
		tr.Reference = beside("reference", "V", refs)
	}
	return tr
}

// A control that sleeps takes the sensor's supply away and gives it back as it wakes to
// drive: these rows are left out and told. What comes back in the midst of a rest, or
// while the reference stayed, is a loss as ever. (Drawn.)
func TestFeedCut(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name           string
		off, back      float64
		reference, fed bool
		told           bool
	}{
		{"asleep, polarity and feedback only", 2, 0.02, false, false, true},
		{"asleep, with the reference", 2, 0.02, true, false, true},
		{"awake a moment before it drives", 1, 0.4, true, false, true},
		{"back in the midst of the rest", 1, 4, false, false, false},
		{"the reference stayed", 2, 0.02, true, true, false},
	} {
		got, v := lookAt(t, dozing(3, c.off, c.back, c.reference, c.fed))
		told := slices.ContainsFunc(got.Notes, func(s string) bool { return strings.Contains(s, "a control that sleeps") })
		if told != c.told || (v.Conclusion == NoFault) != c.told {
			t.Errorf("%s: told %v; %s", c.name, told, say(got, v))
		}
	}
}

// A control that feeds its sensor only about each drive, by a filter or without, gives itself
// away by all the drives together; a reference that is gone in one rest is a key that was
// turned, and in several short ones a plug. (Drawn.)
func TestFedAboutDrives(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		cuts   func(at, rest float64) bool // s since the last drive ended, and till the next begins
		filter float64                     // s
		logged bool                        // the reference
		sound  bool
	}{
		{"fed 0.2 s before each drive to 0.3 s after it", func(at, next float64) bool { return at > 0.3 && next > 0.2 }, 0.001, false, true},
		{"through a slow filter", func(at, next float64) bool { return at > 0.3 && next > 0.2 }, 0.13, false, true},
		{"lost for a second early in each rest", func(at, next float64) bool { return at > 0.3 && at < 1.1 }, 0.001, false, false},
	} {
		d := newDraft(7)
		d.dt = 0.02
		d.noise = 0.002
		fed, since, left := 1.0, 0.0, 0.0
		var refs []float64
		d.read = func(d *draft) float64 {
			on := boolOf(d.volts != 0 || !c.cuts(since, left))
			fed += (on - fed) * math.Min(1, d.dt/c.filter)
			since, left = since+d.dt, left-d.dt
			refs = append(refs, 5*on)
			return fed * d.x
		}
		rest := func(s float64) {
			since, left = 0, s
			d.run(0, s)
		}
		d.run(12, 1)
		rest(1)
		for _, s := range []float64{1.7, 2.9, 1.9, 6, 2.2, 1.8, 3.3, 2.1} {
			d.run(12, 6)
			rest(s)
			d.run(-12, 3)
			rest(0.7 * s)
			d.run(-12, 3)
			rest(1.3)
		}
		tr := d.trace()
		if c.logged {
			tr.Reference = beside("reference", "V", refs)
		}
		got, v := lookAt(t, tr)
		if (v.Conclusion == NoFault) != c.sound {
			t.Errorf("%s: %s; notes %v", c.name, say(got, v), got.Notes)
		}
	}
}
